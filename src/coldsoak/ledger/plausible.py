"""Whether a reading can be true of the cylinder that it is about.

What cannot be is refused with the likely reason, so that a wrong unit does not pass for fuel. What
can be and must not be, such as too much fuel, is a fact and is kept.
"""

from coldsoak.errors import InputError
from coldsoak.ledger.kinds import below_tare
from coldsoak.rig.catalogue import default
from coldsoak.rig.filling import liquid_density
from coldsoak.rig.trip import Cylinder, Fuel
from coldsoak.rig.units import scale, show, split

COLDEST = 213.15
"""Lower end of the fuel data [K]: liquid is never denser in the cold that is planned for."""

OTHER = {"kg": "lb", "lb": "kg", "lbs": "kg"}
"""The unit that a scale was perhaps set to instead."""


def require_plausible(
    kind: str, value: float | None, written: str, cylinder: Cylinder, fuel: Fuel
) -> None:
    """Raise InputError for a reading [SI] that cannot be true of this cylinder."""
    if value is None:
        return
    match kind:
        case "gross weight":
            _require_weight(value, written, cylinder, fuel, cylinder.tare)
        case "contents weight" | "refilled":
            _require_weight(value, written, cylinder, fuel, 0.0)
        case "liquid level":
            _require_level(value, written, cylinder)


def heaviest(cylinder: Cylinder, fuel: Fuel) -> float:
    """Mass of liquid that fills the cylinder to the last drop in the worst cold [kg]."""
    density = max(liquid_density(COLDEST, liquid) for liquid in (fuel.typical, fuel.worst))
    return density * cylinder.water_capacity * (1.0 + tolerance())


def tolerance() -> float:
    """Rounding of scales and stamped numbers, as a share."""
    return float(default("filling.reading_tolerance").value)


def height(cylinder: Cylinder) -> float:
    """Height of the body as it stands or lies, without foot ring and collar [m]."""
    from coldsoak.physics.vessel import outer_height, shape

    if not cylinder.upright:
        return cylinder.diameter + 2.0 * cylinder.thickness
    return outer_height(shape(cylinder.water_capacity, cylinder.diameter), cylinder.thickness)


def _require_weight(
    weight: float, written: str, cylinder: Cylinder, fuel: Fuel, empty: float
) -> None:
    """Refuse less than the empty cylinder weighs, and more than it could hold."""
    lowest, most = empty * (1.0 - below_tare()), empty + heaviest(cylinder, fuel)
    if lowest <= weight <= most:
        return
    tare = f"{show(cylinder.tare, 'mass')} ({show(cylinder.tare, 'mass', 'us')})"
    if weight < lowest:
        reason = f"the empty cylinder {cylinder.name} weighs {tare} by the trip file"
    else:
        full = f"{show(most, 'mass')} ({show(most, 'mass', 'us')})"
        reason = f"{cylinder.name} would read {full} with no room left in it"
    hint = _other_unit(written, lowest, most) or "check the scale, its unit, the tare, the name"
    raise InputError(f'found "{written}"', f"{reason}; {hint}; the reading was not kept")


def _other_unit(written: str, lowest: float, most: float) -> str | None:
    """A hint if the same number fits in the other unit that scales have."""
    number, unit = split(written)
    if unit not in OTHER:
        return None
    if not lowest <= number * scale(OTHER[unit], "mass").factor <= most:
        return None
    return f"{number:g} {OTHER[unit]} would fit: which unit was the scale set to?"


def _require_level(level: float, written: str, cylinder: Cylinder) -> None:
    """Refuse a level above the top of the body."""
    top = height(cylinder)
    if level <= top * (1.0 + tolerance()):
        return
    body = f"{show(top, 'length')} ({show(top, 'length', 'us')})"
    raise InputError(
        f'found "{written}"',
        f"the body of {cylinder.name} is {body} high without foot ring and collar; "
        "the reading was not kept",
    )
