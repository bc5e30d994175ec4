"""The electric side of a trip in SI units: battery, loads, panels and chargers."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from coldsoak.rig.trip import Window

Curve = tuple[tuple[float, float], ...]
"""Points of a curve, the first numbers ascending."""


@dataclass(frozen=True)
class Load:
    """Something that draws from the battery: power [W] and when it is on."""

    name: str
    power: float
    use: "Literal['always'] | tuple[Window, ...]"


@dataclass(frozen=True)
class Charger:
    """A daily window in which the battery is offered a power [W]."""

    window: "Window"
    power: float


@dataclass(frozen=True)
class Solar:
    """Panels.

    Attributes
    ----------
    power : rated, at 1000 W/m2 and 25 C of the cells [W]
    tilt, azimuth : from level, and from north over east [rad]
    snow : share of the yield lost to snow and shade
    efficiency : of wiring, controller and all else but the temperature
    coefficient : share of the power lost per kelvin of the cells above 25 C [1/K]
    """

    power: float
    tilt: float
    azimuth: float
    snow: float
    efficiency: float
    coefficient: float


@dataclass(frozen=True)
class Kind:
    """What all batteries of one kind have in common.

    Attributes
    ----------
    exponent : of Peukert
    capacity : temperature [K] and capacity over the rated one
    acceptance : temperature [K] and charge accepted when empty, in rated capacities [1/s]
    tapers : whether less is accepted the fuller it is (ampere-hour law)
    efficiency : state up to which, and energy stored over energy accepted
    charge_floor : temperature below which charging is blocked [K]; 0 for none
    freezes : state and freezing point of the electrolyte [K]; empty for none
    weak_below : temperature below which its capacity is a weak guess [K]
    """

    name: str
    exponent: float
    capacity: Curve
    acceptance: Curve
    tapers: bool
    efficiency: Curve
    charge_floor: float
    freezes: Curve
    weak_below: float


@dataclass(frozen=True)
class Battery:
    """The house battery.

    Attributes
    ----------
    energy : rated, 20-hour rate and 25 C [J]
    state : charge over rated charge at the start
    inside : in the shelter, else in the outside air
    cut_out, reconnect : share left of what it can give at its temperature and load when loads
        are cut off, and when they come back
    """

    kind: Kind
    energy: float
    state: float
    inside: bool
    cut_out: float
    reconnect: float
    loads: tuple[Load, ...]
    solar: Solar | None
    alternator: tuple[Charger, ...]
    shore: tuple[Charger, ...]
