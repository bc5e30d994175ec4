"""The trip file as people write it: every table and key, with its unit and its bounds.

These models are the schema that ``coldsoak schema trip`` prints. They say what may be written; what
a missing key means is decided where the file is resolved, from data with sources.
"""

from datetime import datetime
from typing import Annotated, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Discriminator,
    Field,
    StrictBool,
    StrictInt,
    StrictStr,
    Tag,
    ValidatorFunctionWrapHandler,
    WithJsonSchema,
    WrapValidator,
    model_validator,
)

from coldsoak.rig.clock import checked_window, daily_window, seconds_of_day
from coldsoak.rig.quantity import Measured, Quantity, fault, kind_of

FUEL_RANGE = "the fuel data hold from -60 to 55 degC"

Mass = Annotated[Quantity, Measured("mass", "0 kg", "2000 kg")]
BodyMass = Annotated[Quantity, Measured("mass", "0 kg", "2000 kg", above=True)]
Volume = Annotated[Quantity, Measured("volume", "0.1 L", "4000 L")]
RoomVolume = Annotated[Quantity, Measured("volume", "0.5 m3", "5000 m3")]
Diameter = Annotated[Quantity, Measured("length", "40 mm", "2 m")]
WallThickness = Annotated[Quantity, Measured("length", "0.1 mm", "50 mm")]
LayerThickness = Annotated[Quantity, Measured("length", "0.1 mm", "2 m")]
RoomHeight = Annotated[Quantity, Measured("length", "0.3 m", "20 m")]
HeightAboveFloor = Annotated[Quantity, Measured("length", "0 m", "20 m")]
Elevation = Annotated[Quantity, Measured("elevation", "-430 m", "6000 m")]
Area = Annotated[Quantity, Measured("area", "0 m2", "10000 m2", above=True)]
Opening = Annotated[Quantity, Measured("opening", "0 cm2", "100000 cm2")]
FreeArea = Annotated[Quantity, Measured("opening", "0 cm2", "100000 cm2", above=True)]
Temperature = Annotated[Quantity, Measured("temperature", "-60 degC", "55 degC", why=FUEL_RANGE)]
RoomTemperature = Annotated[Quantity, Measured("temperature", "-60 degC", "55 degC")]
SetPoint = Annotated[Quantity, Measured("temperature", "-20 degC", "40 degC")]
Difference = Annotated[Quantity, Measured("temperature_difference", "0.1 K", "10 K")]
GaugePressure = Annotated[Quantity, Measured("gauge_pressure", "0 kPa", "1500 kPa")]
Power = Annotated[Quantity, Measured("power", "0 W", "3000 kW")]
Electric = Annotated[Quantity, Measured("power", "0 W", "20 kW")]
GasRate = Annotated[Quantity, Measured("gas_rate", "0 W", "3000 kW", above=True)]
Bore = Annotated[Quantity, Measured("length", "1 mm", "150 mm")]
LineLength = Annotated[Quantity, Measured("length", "0 m", "200 m")]
SmallPressure = Annotated[Quantity, Measured("gauge_pressure", "0 Pa", "200 kPa", above=True)]
Overshoot = Annotated[Quantity, Measured("share", "100 %", "200 %")]
Length = Annotated[Quantity, Measured("time", "10 min", "366 d")]
Pause = Annotated[Quantity, Measured("time", "0 s", "24 h")]
Wind = Annotated[Quantity, Measured("speed", "0 m/s", "60 m/s")]
Share = Annotated[Quantity, Measured("share", "0 %", "100 %")]
Radiative = Annotated[Quantity, Measured("share", "1 %", "100 %")]
HeatTransfer = Annotated[Quantity, Measured("heat_transfer", "0.01 W/m2K", "20 W/m2K")]
Insulation = Annotated[Quantity, Measured("thermal_resistance", "0 m2K/W", "20 m2K/W")]
FilmResistance = Annotated[Quantity, Measured("thermal_resistance", "0.05 m2K/W", "5 m2K/W")]
Conductivity = Annotated[Quantity, Measured("conductivity", "0.005 W/mK", "500 W/mK")]
HeatCapacity = Annotated[Quantity, Measured("heat_capacity", "1 kJ/K", "1000000 kJ/K")]
Breath = Annotated[Quantity, Measured("gas_flow", "0 L/h", "200 L/h")]
WaterRate = Annotated[Quantity, Measured("water_rate", "0 g/h", "2 kg/h")]
CookingWater = Annotated[Quantity, Measured("mass", "0 kg", "20 kg")]
CarbonDioxide = Annotated[
    Quantity,
    Measured("concentration", "600 ppm", "5000 ppm", why="a trip may set it stricter, not looser"),
]
Oxygen = Annotated[
    Quantity,
    Measured("concentration", "19.5 %", "20.9 %", why="a trip may set it stricter, not looser"),
]

Charge = Annotated[Quantity, Measured("charge", "0.1 Ah", "10000 Ah")]
Energy = Annotated[Quantity, Measured("electric_energy", "1 Wh", "500 kWh")]
Current = Annotated[Quantity, Measured("electric_current", "0 A", "2000 A")]
Voltage = Annotated[Quantity, Measured("voltage", "1 V", "100 V")]
Tilt = Annotated[Quantity, Measured("angle", "0 deg", "90 deg")]
Azimuth = Annotated[Quantity, Measured("angle", "0 deg", "360 deg")]
PipeLength = Annotated[Quantity, Measured("length", "10 mm", "1 km")]
PipeDiameter = Annotated[Quantity, Measured("length", "2 mm", "500 mm")]

ClockTime = Annotated[
    float,
    BeforeValidator(seconds_of_day),
    WithJsonSchema({"type": "string", "format": "time of day", "examples": ["22:00"]}),
]
DailyWindow = Annotated[
    tuple[float, float],
    BeforeValidator(daily_window),
    WithJsonSchema({"type": "string", "format": "daily window", "examples": ["22:00 .. 07:00"]}),
]
Name = Annotated[StrictStr, Field(min_length=1, max_length=80, pattern=r"^[^\x00-\x1f]*$")]
Fraction = Annotated[float, Field(strict=True, ge=0.0, le=1.0, allow_inf_nan=False)]


class Table(BaseModel):
    """A table of the trip file; a key that is not listed is an error."""

    model_config = ConfigDict(extra="forbid", frozen=True, hide_input_in_errors=True)


class PlaceTable(Table):
    """Where the trip goes."""

    elevation: Elevation | None = Field(None, description="Height above sea level.")
    latitude: Annotated[float, Field(strict=True, ge=-90, le=90, allow_inf_nan=False)] | None = (
        Field(None, description="Degrees, north positive.")
    )
    longitude: Annotated[float, Field(strict=True, ge=-180, le=180, allow_inf_nan=False)] | None = (
        Field(None, description="Degrees, east positive.")
    )


Cloud = Annotated[
    Literal["clear", "overcast"] | Quantity,
    BeforeValidator(lambda value: value if value in ("clear", "overcast") else _cloud(value)),
    WithJsonSchema(
        {
            "type": "string",
            "description": 'How much of the sky is cloud: "clear", "overcast" or a share.',
            "examples": ["clear", "overcast", "40 %"],
        }
    ),
]


def _cloud(value: object) -> Quantity:
    """A cloud share; any other text is answered with the words that are allowed."""
    if isinstance(value, str) and any(character.isdigit() for character in value):
        return Measured("share", "0 %", "100 %").read(value)
    if isinstance(value, str) and value.strip().lower() == "unknown":
        return Measured("share").read(value)
    raise fault(
        f"found {kind_of(value)}", 'write "clear", "overcast" or a share of cloud such as "40 %"'
    )


class ConstantTable(Table):
    """Weather that does not change."""

    temperature: Temperature = Field(description="Air temperature.")
    wind: Wind | None = Field(None, description="Wind at the cylinder.")
    humidity: Share | None = Field(None, description="Relative humidity.")
    sky: Cloud | None = Field(None, description="How much of it is cloud.")


class DailyTable(Table):
    """Weather from two numbers a day, as a spoken forecast gives them."""

    lows: list[Temperature] = Field(
        min_length=1, max_length=400, description="Lowest air temperature of each day."
    )
    highs: list[Temperature] = Field(
        min_length=1, max_length=400, description="Highest air temperature of each day."
    )
    wind: Wind | None = Field(None, description="Wind at the cylinder.")
    humidity: Share | None = Field(None, description="Relative humidity.")
    sky: Cloud | None = Field(None, description="How much of it is cloud.")

    @model_validator(mode="after")
    def _same_count(self) -> "DailyTable":
        if len(self.lows) != len(self.highs):
            raise fault(
                f"found {len(self.lows)} lows and {len(self.highs)} highs",
                "give one low and one high for each day",
            )
        return self


def _weather_kind(value: object) -> str:
    """Which of the three ways to give weather a value is."""
    if isinstance(value, dict):
        return "<days>" if "lows" in value or "highs" in value else "<constant>"
    return "<file>"


WeatherEntry = Annotated[
    Annotated[StrictStr, Field(min_length=1, max_length=400), Tag("<file>")]
    | Annotated[ConstantTable, Tag("<constant>")]
    | Annotated[DailyTable, Tag("<days>")],
    Discriminator(_weather_kind),
]


def _local_datetime(value: object) -> datetime:
    """The start as a TOML date and time, written without quotation marks."""
    if not isinstance(value, datetime):
        raise fault(
            f"found {kind_of(value)}",
            "write a date and a local time without quotation marks: 2026-01-16T16:00:00",
        )
    if not 1900 <= value.year <= 2200:
        raise fault(f"found the year {value.year}", "it must be between 1900 and 2200")
    return value


class TripTable(Table):
    """The trip as a whole."""

    name: Name | None = Field(None, description="What it is called; its own in its list.")
    start: Annotated[datetime, BeforeValidator(_local_datetime)] | None = Field(
        None, description="Local date and time of the start."
    )
    length: Length | None = Field(None, description="How long the trip lasts.")
    place: PlaceTable | None = Field(None, description="Where it goes.")
    weather: WeatherEntry = Field(
        description="A weather file beside the trip file, or constant weather, or lows and highs."
    )


def _blend_kind(value: object) -> str:
    return "<fractions>" if isinstance(value, dict) else "<grade>"


class FuelTable(Table):
    """What is in the cylinders."""

    blend: Annotated[
        Annotated[StrictStr, Tag("<grade>")]
        | Annotated[dict[str, Fraction], Field(min_length=1, max_length=5), Tag("<fractions>")],
        Discriminator(_blend_kind),
    ] = Field(description="A grade by name, or mole fractions of the components.")


HeaterOn = Annotated[
    Literal["always"] | Quantity,
    BeforeValidator(lambda value: value if value == "always" else _below(value)),
    WithJsonSchema({"type": "string", "examples": ["always", "below 5 degC"]}),
]


def _below(value: object) -> Quantity:
    """The temperature of "below 5 degC"."""
    if not isinstance(value, str) or not value.strip().startswith("below "):
        raise fault(f"found {kind_of(value)}", 'write "always" or "below 5 degC"')
    return Measured("temperature", "-60 degC", "40 degC").read(value.strip().removeprefix("below "))


class HeaterTable(Table):
    """An electric heater made for the cylinder."""

    power: Electric = Field(description="Electric power.")
    on: HeaterOn | None = Field(None, description="When it runs.")


class CylinderTable(Table):
    """One cylinder or tank."""

    name: Name | None = Field(None, description="What it is called; its own in its list.")
    size: StrictStr | None = Field(
        None, description="A size of the catalogue; every other key of the body overrides it."
    )
    water_capacity: Volume | None = Field(None, description="Volume when full of water.")
    diameter: Diameter | None = Field(None, description="Inside diameter.")
    tare: BodyMass | None = Field(None, description="Mass empty, with its valve, as stamped.")
    wall: WallThickness | None = Field(None, description="Wall thickness.")
    material: Literal["steel", "aluminium", "composite"] | None = Field(
        None, description="Of its body."
    )
    orientation: Literal["upright", "horizontal"] | None = Field(
        None, description="How it stands or lies in use."
    )
    contents: Mass | None = Field(None, description="Mass of fuel in it.")
    gross: Mass | None = Field(None, description="What the scale reads, cylinder and fuel.")
    fill: Annotated[Quantity, Measured("share", "0 %", "200 %")] | None = Field(
        None, description="Liquid volume at 15 degC as a share of the water capacity."
    )
    role: Literal["supply", "reserve", "spare"] | None = Field(
        None, description="What it is for; cylinders are used in the order of the file."
    )
    temperature: Temperature | None = Field(None, description="Of the contents at the start.")
    place: Literal["open", "covered", "locker"] | None = Field(
        None, description="In the open, under a rigid cover open below, or in a closed locker."
    )
    wind_factor: Share | None = Field(None, description="Wind at the cylinder, share of reported.")
    sky_view: Share | None = Field(None, description="Share of the surroundings that is sky.")
    insulation: Insulation | None = Field(None, description="Blanket around it.")
    emissivity: Radiative | None = Field(None, description="Of the outer surface.")
    absorptivity: Share | None = Field(None, description="For sun, of the outer surface.")
    heater: HeaterTable | None = Field(None, description="An electric heater made for it.")


class RegulatorTable(Table):
    """A regulator with its numbers."""

    kind: StrictStr = Field(
        description="Kind of the catalogue and outlet pressure: two-stage 11 inH2O."
    )
    capacity: GasRate | None = Field(None, description="Gas that it passes at most.")
    droop: SmallPressure | None = Field(
        None, description="Fall of its outlet from a trickle to its capacity."
    )
    lock_up: Overshoot | None = Field(
        None, description="Outlet pressure with no flow, share of the outlet pressure."
    )
    reversed: StrictBool | None = Field(None, description="Whether it is fitted the wrong way.")


RegulatorEntry = Annotated[
    Annotated[
        StrictStr,
        Field(
            description="Kind of the catalogue and outlet pressure: two-stage 11 inH2O.",
            min_length=1,
            max_length=200,
        ),
        Tag("<text>"),
    ]
    | Annotated[RegulatorTable, Tag("<numbers>")],
    Discriminator(lambda value: "<numbers>" if isinstance(value, dict) else "<text>"),
]


class ConnectorTable(Table):
    """An excess-flow connector between cylinder and pigtail."""

    trip: GasRate | None = Field(
        None, description="Gas flow that closes it, with the cylinder at 15 degC."
    )
    bypass: GasRate | None = Field(None, description="Gas flow that it still passes when closed.")


class SupplyTable(Table):
    """What stands between the cylinders and the appliances."""

    arrangement: Literal["one at a time", "together", "automatic changeover"] | None = Field(
        None, description="Which cylinders are open at a time."
    )
    regulator: RegulatorEntry | None = Field(
        None, description="The first regulator behind the cylinders, by its kind or its numbers."
    )
    minimum_inlet: GaugePressure | None = Field(
        None, description="Least gauge pressure at the regulator's inlet."
    )
    connector: ConnectorTable | None = Field(
        None, description="An excess-flow connector at the cylinder."
    )
    changeover: GaugePressure | None = Field(
        None, description="Gauge pressure of the supply side below which the reserve opens."
    )
    check_valves: StrictBool | None = Field(
        None, description="Whether cylinders that are open together have check valves."
    )


class LineTable(Table):
    """A pipe, tube or hose that gas flows in."""

    name: Name | None = Field(None, description="What it is called; its own in its list.")
    start: Name | None = Field(
        None,
        alias="from",
        description="Where it begins: regulator, cylinder, or a place that another line leads to.",
    )
    end: Name = Field(
        alias="to",
        description="Where it leads: an appliance, a place where other lines begin, or regulator.",
    )
    kind: Literal["pipe", "copper", "hose", "CSST"] = Field(description="What it is made of.")
    size: StrictStr | None = Field(
        None, description="A size of the catalogue: 1/2 in, 10 mm, EHD 18; or give diameter."
    )
    diameter: Bore | None = Field(None, description="Inside diameter, if not that of its size.")
    length: LineLength = Field(description="Of the line, fittings not counted.")
    fittings: (
        Annotated[dict[str, Annotated[StrictInt, Field(ge=0, le=500)]], Field(max_length=20)] | None
    ) = Field(None, description='How many of each: { elbow = 3, "ball valve" = 1 }.')
    quick_connect: StrictStr | None = Field(
        None, description="Size of a quick-connect outlet at its beginning: 1/4 in."
    )
    regulator: RegulatorEntry | None = Field(
        None, description="A further regulator at its beginning, behind a quick-connect."
    )


class WindowTable(Table):
    """A time of day during which something burns."""

    start: ClockTime = Field(alias="from", description="Its beginning.")
    end: ClockTime = Field(alias="to", description="Its end; earlier than from crosses midnight.")

    @model_validator(mode="after")
    def _not_empty(self) -> "WindowTable":
        checked_window(self.start, self.end)
        return self


class SetbackTable(WindowTable):
    """A time of day with its own set point."""

    set: SetPoint = Field(description="Set point during it.")


def _use_kind(value: object) -> str:
    return "<windows>" if isinstance(value, list) else "<word>"


class ApplianceTable(Table):
    """One burner."""

    name: Name | None = Field(None, description="What it is called; its own in its list.")
    kind: Literal[
        "furnace",
        "stove",
        "water heater",
        "refrigerator",
        "room heater",
        "grill",
        "fire pit",
        "generator",
        "burner",
    ] = Field(description="What it is; its defaults depend on it.")
    input: Power = Field(description="Gross heat input at sea level, as on the rating plate.")
    use: (
        Annotated[
            Annotated[Literal["thermostat", "always"], Tag("<word>")]
            | Annotated[list[WindowTable], Field(min_length=1, max_length=100), Tag("<windows>")],
            Discriminator(_use_kind),
        ]
        | None
    ) = Field(None, description="When it burns.")
    vented: StrictBool | None = Field(None, description="Whether its products leave by a flue.")
    room_share: Share | None = Field(None, description="Share of gross heat that stays inside.")
    set: SetPoint | None = Field(None, description="Set point of its thermostat.")
    setback: Annotated[list[SetbackTable], Field(max_length=50)] | None = Field(
        None, description="Times of day with another set point."
    )
    differential: Difference | None = Field(None, description="Full width of the hysteresis.")
    minimum_on: Pause | None = Field(None, description="Least time that it burns.")
    minimum_off: Pause | None = Field(None, description="Least time between two burns.")
    purge: Pause | None = Field(None, description="Blower time before the gas valve opens.")
    tries: Annotated[StrictInt, Field(ge=1, le=20)] | None = Field(
        None, description="Trials for ignition before it locks out."
    )
    retry_wait: Pause | None = Field(None, description="Wait between two trials.")
    electric: Electric | None = Field(None, description="Electric draw while it burns.")
    needs: GaugePressure | None = Field(
        None, description="Least gauge pressure at its inlet with which it burns as rated."
    )
    regulator: RegulatorEntry | None = Field(
        None, description="A regulator of its own, such as that on the hose of a grill."
    )


class LayerTable(Table):
    """One layer of a surface."""

    material: StrictStr | None = Field(None, description="A material of the catalogue.")
    conductivity: Conductivity | None = Field(None, description="If not that of its material.")
    thickness: LayerThickness = Field(description="Of the layer.")


class SurfaceTable(Table):
    """A part of the shelter's envelope."""

    name: Name | None = Field(None, description="What it is called; its own in its list.")
    area: Area = Field(description="Inside area.")
    U: HeatTransfer | None = Field(None, description="Heat transfer, films included.")
    layers: Annotated[list[LayerTable], Field(min_length=1, max_length=30)] | None = Field(
        None, description="From inside to outside; surface films are added."
    )
    faces: Literal["side", "up", "down"] | None = Field(
        None, description="Where the outer face looks; it sets the surface film."
    )


class FloorTable(SurfaceTable):
    """The floor."""

    to: Literal["air", "ground"] | None = Field(None, description="What is below it.")


class GlazingTable(Table):
    """A window."""

    name: Name | None = Field(None, description="What it is called; its own in its list.")
    area: Area = Field(description="Inside area.")
    U: HeatTransfer | None = Field(None, description="Heat transfer, films included.")
    solar: Share | None = Field(None, description="Share of the sun on it that comes in.")
    inside_resistance: FilmResistance | None = Field(
        None, description="From the pane to the room; a closed curtain adds to it."
    )


class OpeningTable(Table):
    """A vent, or a window that is kept open."""

    name: Name | None = Field(None, description="What it is called; its own in its list.")
    area: FreeArea = Field(description="Free area of each, clear of grilles and screens.")
    count: Annotated[StrictInt, Field(ge=1, le=100)] | None = Field(
        None, description="How many of them."
    )
    height: HeightAboveFloor = Field(description="Of its middle above the floor.")


class ShelterTable(Table):
    """The heated room."""

    floor: FloorTable = Field(description='The floor: { area = "10 m2", U = "0.8 W/m2K" }.')
    surfaces: Annotated[list[SurfaceTable], Field(min_length=1, max_length=200)] = Field(
        description='Walls and roof: [{ area = "36 m2", U = "0.9 W/m2K" }].'
    )
    windows: Annotated[list[GlazingTable], Field(max_length=100)] | None = Field(
        None, description="All glazing."
    )
    height: RoomHeight | None = Field(None, description="Inside.")
    volume: RoomVolume | None = Field(None, description="Of the air inside.")
    leakage: Opening | None = Field(
        None,
        description="Effective leakage area of gaps, and of vents that are not among the openings.",
    )
    openings: Annotated[list[OpeningTable], Field(min_length=1, max_length=50)] | None = Field(
        None,
        description='Vents: [{ area = "60 cm2", height = "0.1 m" }, '
        '{ area = "60 cm2", height = "1.9 m" }].',
    )
    mass: Literal["light", "medium", "heavy"] | None = Field(
        None, description="How massive it is built."
    )
    light_capacity: HeatCapacity | None = Field(None, description="Air and light things.")
    heavy_capacity: HeatCapacity | None = Field(None, description="Structure and furniture.")
    wind_factor: Share | None = Field(None, description="Wind at the shelter, share of reported.")
    temperature: RoomTemperature | None = Field(None, description="Inside at the start.")
    ground_temperature: RoomTemperature | None = Field(None, description="Below the floor.")


class PeopleTable(Table):
    """Who is inside."""

    count: Annotated[StrictInt, Field(ge=0, le=1000)] = Field(description="How many.")
    heat: Electric | None = Field(None, description="Sensible heat of each.")
    asleep: DailyWindow | None = Field(None, description="When nobody changes a cylinder.")
    co2_awake: Breath | None = Field(
        None, description="Carbon dioxide that each breathes out, awake; at 25 degC, 101.3 kPa."
    )
    co2_asleep: Breath | None = Field(None, description="The same, asleep.")
    water_awake: WaterRate | None = Field(
        None, description="Water that each gives off by breath and skin, awake."
    )
    water_asleep: WaterRate | None = Field(None, description="The same, asleep.")
    cooking_water: CookingWater | None = Field(
        None, description="Water that cooking gives off, for each and a day, without the flame's."
    )


class AirTable(Table):
    """How far the air inside may go."""

    co2: CarbonDioxide | None = Field(None, description="Most carbon dioxide.")
    o2: Oxygen | None = Field(None, description="Least oxygen.")


class RestVoltage(Quantity):
    """A state of charge given by the voltage at rest."""


def _state_of_charge(value: object, as_share: ValidatorFunctionWrapHandler) -> object:
    """A share of the full charge, or a voltage at rest."""
    if isinstance(value, str) and value.rstrip().endswith("V"):
        return RestVoltage(*Measured("voltage", "1 V", "100 V").read(value))
    return as_share(value)


StateOfCharge = Annotated[
    Quantity, Measured("share", "0 %", "100 %"), WrapValidator(_state_of_charge)
]
OR_VOLTAGE = 'Or the voltage at rest: "12.4 V".'


class LoadTable(Table):
    """Something that draws from the battery."""

    name: Name | None = Field(None, description="What it is called; its own in its list.")
    power: Electric | None = Field(None, description="Electric power while it is on.")
    current: Current | None = Field(None, description="Or its current while it is on.")
    use: (
        Annotated[
            Annotated[Literal["always"], Tag("<word>")]
            | Annotated[list[WindowTable], Field(min_length=1, max_length=100), Tag("<windows>")],
            Discriminator(_use_kind),
        ]
        | None
    ) = Field(None, description="When it is on.")


class ChargerTable(WindowTable):
    """A time of day during which the battery is charged."""

    power: Electric | None = Field(None, description="Electric power at the battery.")
    current: Current | None = Field(None, description="Or its current at the battery.")


class SolarTable(Table):
    """Panels that charge the battery."""

    power: Electric = Field(description="Rated power of all panels together.")
    tilt: Tilt | None = Field(None, description="Of the panels; 0 deg is level.")
    azimuth: Azimuth | None = Field(
        None, description="Where tilted panels face, from north over east; 180 deg is south."
    )
    snow: Share | None = Field(None, description="Share of their yield lost to snow and shade.")
    efficiency: Share | None = Field(
        None, description="Of controller and wiring, soiling and mismatch included."
    )


class BatteryTable(Table):
    """The house battery: what it feeds, and what charges it."""

    kind: Literal["flooded", "AGM", "gel", "LFP"] = Field(
        description="Lead-acid (flooded, AGM, gel), or lithium iron phosphate (LFP)."
    )
    capacity: Charge | None = Field(None, description="Rated, at the 20-hour rate and 25 degC.")
    energy: Energy | None = Field(None, description="Or its rated energy.")
    voltage: Voltage | None = Field(None, description="Rated.")
    state: StateOfCharge | None = Field(
        None, description=f"Charge in it at the start, share of the full one. {OR_VOLTAGE}"
    )
    place: Literal["inside", "outside"] | None = Field(
        None, description="In the shelter, or in the outside air; it sets its temperature."
    )
    cut_out: StateOfCharge | None = Field(
        None,
        description=(
            "Share of what it can give at its temperature and load at which loads are cut off. "
            f"{OR_VOLTAGE}"
        ),
    )
    reconnect: StateOfCharge | None = Field(
        None, description=f"The share at which they come back. {OR_VOLTAGE}"
    )
    loads: Annotated[list[LoadTable], Field(max_length=100)] | None = Field(
        None, description="What it feeds besides appliances and cylinder heaters."
    )
    solar: SolarTable | None = Field(None, description="Panels that charge it.")
    alternator: Annotated[list[ChargerTable], Field(max_length=50)] | None = Field(
        None, description="When an engine charges it."
    )
    shore: Annotated[list[ChargerTable], Field(max_length=50)] | None = Field(
        None, description="When a charger on the grid or a generator charges it."
    )


class WaterTable(Table):
    """A tank or a pipe that must not freeze: a volume, or the length and diameter of a pipe."""

    name: Name | None = Field(None, description="What it is called; its own in its list.")
    volume: Volume | None = Field(None, description="Water in a tank.")
    area: Area | None = Field(None, description="Surface of the tank.")
    length: PipeLength | None = Field(None, description="Of a pipe that is full of water.")
    diameter: PipeDiameter | None = Field(None, description="Of the pipe, inside.")
    insulation: Insulation | None = Field(None, description="Around it.")
    place: Literal["inside", "outside"] | None = Field(
        None, description="In the shelter or in the outside air."
    )
    ice: Share | None = Field(None, description="Share of ice at which it counts as frozen.")


class TripDocument(Table):
    """A trip file."""

    trip: TripTable = Field(description="When, where and in which weather.")
    fuel: FuelTable | None = Field(None, description="What is in the cylinders.")
    cylinder: Annotated[list[CylinderTable], Field(min_length=1, max_length=100)] = Field(
        description="Every cylinder and tank, in the order of use."
    )
    supply: SupplyTable | None = Field(None, description="Regulator and arrangement.")
    line: Annotated[list[LineTable], Field(max_length=100)] | None = Field(
        None, description="Every pipe, tube and hose; without any, lines lose nothing."
    )
    appliance: Annotated[list[ApplianceTable], Field(max_length=100)] | None = Field(
        None, description="Everything that burns."
    )
    shelter: ShelterTable | None = Field(None, description="The heated room.")
    people: PeopleTable | None = Field(None, description="Who is inside.")
    air: AirTable | None = Field(None, description="How far the air inside may go.")


NOT_COMPUTED_YET = ("battery", "uncertainty")
"""Tables of the design that this version does not compute and therefore refuses."""
