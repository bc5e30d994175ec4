"""A trip in SI units with every default settled: what the rest of the program reads."""

from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from coldsoak.rig.source import Source

Role = Literal["supply", "reserve", "spare"]
Material = Literal["steel", "aluminium", "composite"]
Arrangement = Literal["one at a time", "together", "automatic changeover"]
Level = Literal["low", "middle", "high"]
Sky = Literal["clear", "overcast"] | float
"""A word, or the share of the sky that is cloud (0 to 1)."""
Fractions = tuple[float, float, float, float, float]
Window = tuple[float, float]
"""From and to in seconds of the day; one that ends before it starts crosses midnight."""


@dataclass(frozen=True)
class Assumption:
    """A number or word that the trip file did not give, as people read it, and its source."""

    key: str
    value: str
    source: str


@dataclass(frozen=True)
class Uncertain:
    """An input given as a range or as unknown: its key in the trip file and its two ends."""

    key: str
    low: str
    high: str


@dataclass(frozen=True)
class Place:
    """Elevation [m], latitude (north positive) and longitude (east positive) [degrees]."""

    elevation: float | None
    latitude: float | None
    longitude: float | None


@dataclass(frozen=True)
class ConstantWeather:
    """Air [K], wind at the cylinder [m/s], relative humidity (0 to 1), and sky."""

    temperature: float
    wind: float
    humidity: float
    sky: Sky


@dataclass(frozen=True)
class DailyWeather:
    """Lows and highs of each day [K], wind at the cylinder [m/s], humidity (0 to 1), and sky."""

    lows: tuple[float, ...]
    highs: tuple[float, ...]
    wind: float
    humidity: float
    sky: Sky


Weather = Path | ConstantWeather | DailyWeather


@dataclass(frozen=True)
class Fuel:
    """Mole fractions over ethane, propane, propylene, isobutane, n-butane; each set sums to 1."""

    name: str
    typical: Fractions
    worst: Fractions


@dataclass(frozen=True)
class Cylinder:
    """One cylinder or tank.

    Attributes
    ----------
    water_capacity : volume [m3]
    diameter : inside [m]
    thickness : of the wall [m]
    tare, contents, limit : empty mass, fuel in it, most fuel that may be in it [kg]
    start_temperature : of the contents [K]; None stands for the air's
    wind_factor : wind at the cylinder over reported wind
    sky_view : share of the surroundings that is sky
    sun_view : share of the sun that reaches the place
    cover : thermal resistance of cover, locker and blanket together [m2K/W]
    heater : electric power [W]
    heater_on : "always", or the temperature below which the heater runs [K]
    """

    name: str
    size: str
    role: Role
    water_capacity: float
    diameter: float
    thickness: float
    tare: float
    material: Material
    upright: bool
    contents: float
    limit: float
    start_temperature: float | None
    place: str
    wind_factor: float
    sky_view: float
    sun_view: float
    cover: float
    emissivity: float
    absorptivity: float
    heater: float
    heater_on: Literal["always"] | float


@dataclass(frozen=True)
class Regulator:
    """A regulator of one or two stages; pressures are gauge pressures.

    Attributes
    ----------
    kind : name in the catalogue
    belongs : what it is made to stand behind, "container" or "first stage"
    outlet : as set [Pa]
    capacity : gas that it passes at rated_inlet, as gross heat [W]
    droop : fall of the outlet until the seat is wide open [Pa]
    lock_up : outlet with no flow [Pa]
    minimum_inlet : least inlet pressure by its maker, 0 if only its seat decides [Pa]
    rated_inlet, inlet_limit : inlet pressure of its capacity, and the highest it is made for [Pa]
    inlet_effect, reference : rise of the outlet per rise of the inlet above the reference [Pa/Pa],
        [Pa]
    intermediate, between : of two stages in one body, the pressure between them as set, and what is
        left of it at rated_inlet and capacity [Pa]; None for one stage
    backward : whether it is fitted the wrong way round
    """

    kind: str
    belongs: str
    outlet: float
    capacity: float
    droop: float
    lock_up: float
    minimum_inlet: float
    rated_inlet: float
    inlet_limit: float
    inlet_effect: float
    reference: float
    intermediate: float | None
    between: float | None
    backward: bool


@dataclass(frozen=True)
class Connector:
    """An excess-flow connector: flows that close it and that it then passes, gross heat [W]."""

    trip: float
    bypass: float


@dataclass(frozen=True)
class QuickConnect:
    """A quick-connect outlet: what it may carry, as gross heat [W], and its drop then [Pa]."""

    name: str
    rating: float
    drop: float


@dataclass(frozen=True)
class Line:
    """A pipe, tube or hose.

    Attributes
    ----------
    start, end : where it begins and leads: "cylinder", "regulator", an appliance or another place
    size : name in the catalogue, or "" where only the diameter is given
    length, fittings_length : of the line, and the length that its fittings are worth [m]
    diameter : inside, hydraulic [m]
    roughness : of the wall [m]
    friction : least friction factor, of a corrugated wall; else 0
    code_diameter : diameter for the fuel-gas code's equation [m]
    fittings : name and number of each
    """

    name: str
    start: str
    end: str
    kind: str
    size: str
    length: float
    fittings_length: float
    diameter: float
    roughness: float
    friction: float
    code_diameter: float
    fittings: tuple[tuple[str, int], ...]
    quick_connect: QuickConnect | None
    regulator: Regulator | None


@dataclass(frozen=True)
class Supply:
    """Arrangement of the cylinders; regulator and its pressures [Pa gauge].

    `device` is the regulator with its numbers; None where no line and no number of it is given:
    it is then taken to limit nothing. `connector` is None where there is none.
    """

    arrangement: Arrangement
    regulator: str
    outlet: float
    minimum_inlet: float
    changeover_set: float
    device: Regulator | None
    connector: Connector | None


@dataclass(frozen=True)
class Setback:
    """A daily window with its own set point [K]."""

    start: float
    end: float
    set_point: float


@dataclass(frozen=True)
class Appliance:
    """One burner.

    Attributes
    ----------
    input : gross heat at sea level [W]
    vented : whether its products leave by a flue or it burns outside
    room_share : share of the gross heat that reaches the room
    use : "thermostat", "always" or daily windows
    set_point : of the thermostat [K]
    differential : full width of the hysteresis [K]
    minimum_on, minimum_off, purge, retry_wait : [s]
    tries : trials for ignition before lock-out
    electric : draw while it burns [W]
    needs : least gauge pressure at its inlet, behind its own regulator if it has one [Pa]
    regulator : its own
    """

    name: str
    kind: str
    input: float
    vented: bool
    room_share: float
    use: Literal["thermostat", "always"] | tuple[Window, ...]
    set_point: float
    setbacks: tuple[Setback, ...]
    differential: float
    minimum_on: float
    minimum_off: float
    purge: float
    tries: int
    retry_wait: float
    electric: float
    needs: float
    regulator: Regulator | None


@dataclass(frozen=True)
class Opening:
    """Vents of one kind: free area of all of them [m2], middle above the floor [m]."""

    area: float
    height: float


@dataclass(frozen=True)
class ColdFace:
    """The coldest of the windows or of the walls, seen from inside.

    Area [m2] of all that are as cold, and the resistances [m2K/W] from the inner face to the room
    and to the outside.
    """

    area: float
    inside_resistance: float
    outside_resistance: float


@dataclass(frozen=True)
class Shelter:
    """The heated room as two nodes.

    Attributes
    ----------
    ua_air, ua_ground : heat transfer to the air and to the ground [W/K]
    ground_temperature : [K]; None if no floor lies on the ground
    leakage_area : effective, of gaps and openings together [m2]
    gap_area : effective, of gaps and of vents that are not listed as openings [m2]
    openings : vents with their heights
    window, wall : the coldest; None without windows
    wind_factor : wind at the shelter over reported wind
    floor_area, height, volume : inside [m2], [m], [m3]
    light_capacity, heavy_capacity : of air and light things, and of the rest [J/K]
    coupling : between the two nodes [W/K]
    sun_aperture : window area times share of sun that comes in [m2]
    start_temperature : [K]; None stands for the set point of its thermostat, else the air's
    """

    ua_air: float
    ua_ground: float
    ground_temperature: float | None
    leakage_area: float
    gap_area: float
    openings: tuple[Opening, ...]
    window: ColdFace | None
    wall: ColdFace
    wind_factor: float
    floor_area: float
    height: float
    volume: float
    light_capacity: float
    heavy_capacity: float
    coupling: float
    sun_aperture: float
    start_temperature: float | None


@dataclass(frozen=True)
class People:
    """Who is inside.

    Attributes
    ----------
    count : how many
    heat : sensible heat of each [W]
    asleep : daily window in which they sleep
    co2_awake, co2_asleep : carbon dioxide of each [m3/s at 25 degC and 101.325 kPa]
    water_awake, water_asleep : by breath and skin of each [kg/s]
    cooking_water : of cooking, for each and a day [kg]
    """

    count: int
    heat: float
    asleep: Window
    co2_awake: float
    co2_asleep: float
    water_awake: float
    water_asleep: float
    cooking_water: float


@dataclass(frozen=True)
class AirLimits:
    """Most carbon dioxide and least oxygen inside [mol/mol of dry air]."""

    co2: float
    oxygen: float


@dataclass(frozen=True)
class Trip:
    """A trip file, resolved: no value is missing and none is hidden.

    `assumptions` lists every value that the file did not give, `uncertain` every input that is a
    range, here at its middle (:func:`coldsoak.rig.read.settle` takes another end), and `notes` what
    the reader of a plan must know about the input.
    """

    name: str
    path: Path | None
    start: datetime
    length: float
    place: Place
    weather: Weather
    fuel: Fuel
    cylinders: tuple[Cylinder, ...]
    supply: Supply
    lines: tuple[Line, ...]
    appliances: tuple[Appliance, ...]
    shelter: Shelter | None
    people: People | None
    air: AirLimits
    assumptions: tuple[Assumption, ...]
    uncertain: tuple[Uncertain, ...]
    notes: tuple[str, ...]
    source: "Source" = field(repr=False, compare=False)
