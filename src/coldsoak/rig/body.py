"""The body of a cylinder: from the catalogue, from its own numbers, or from both."""

import math
from typing import NamedTuple

from coldsoak.rig.catalogue import Entry, Sourced, catalogue, default
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import Material
from coldsoak.rig.units import show

HEAD_AREA = 1.08399
"""Area of a 2:1 ellipsoidal head over its diameter squared: half an oblate spheroid of axes
a = D/2 and c = D/4, pi a2 (1 + (1 - e2)/e artanh e) with e2 = 1 - c2/a2."""
SLENDEREST = 20.0
"""Most length over diameter of a body that is believed, common practice, no source."""


class Body(NamedTuple):
    """Water capacity [m3], inside diameter and wall thickness [m], tare [kg], material."""

    volume: float
    diameter: float
    thickness: float
    tare: float
    material: Material


def resolve_body(section: Section, size: Entry | None) -> Body:
    """The body of a cylinder; every number may come from the trip or from its catalogue entry.

    Raises TripError for one that cannot be: too wide for its volume, or heavier than its tare.
    """
    volume = section.number("water_capacity", of_size(size, "water_capacity"))
    diameter = section.number("diameter", of_size(size, "diameter"))
    material = section.word("material", of_size(size, "material") or _common_material())
    area = _area(section, volume, diameter)
    thickness = section.number(
        "wall", of_size(size, "wall") or catalogue("bodies")[material].values["wall"]
    )
    mass = area * thickness * float(catalogue("bodies")[material].values["density"].value)
    tare = section.number("tare", of_size(size, "tare") or _computed_tare(mass))
    _check_tare(section, mass, tare, material)
    return Body(volume, diameter, thickness, tare, material)


def of_size(size: Entry | None, key: str) -> Sourced | None:
    """A value of a catalogue entry, its source led by the entry's name."""
    if size is None or key not in size.values:
        return None
    value = size.values[key]
    return Sourced(value.value, f"generic {size.name}: {value.source}", value.unknown)


def _common_material() -> Sourced:
    return Sourced("steel", "not given: the common material, common practice, no source")


def _computed_tare(mass: float) -> Sourced:
    """The tare of a cylinder that states none."""
    fittings = default("body.fittings")
    return Sourced(f"{float(fittings.value) * mass:.3f} kg", fittings.source)


def _area(section: Section, volume: float, diameter: float) -> float:
    """Wall area of a body with 2:1 ellipsoidal heads [m2]; refuses one that cannot be."""
    length = (volume - math.pi * diameter**3 / 12) / (math.pi / 4 * diameter**2)
    if length < 0 or length > SLENDEREST * diameter:
        raise section.error(
            "diameter" if section.given("diameter") is not None else "water_capacity",
            f"found {show(diameter, 'length')} inside for {show(volume, 'volume')}",
            f"such a body would be {length + diameter / 2:.2f} m long: check both"
            if length > 0
            else "two elliptical heads of this diameter alone hold more: check both",
        )
    return math.pi * diameter * length + 2 * HEAD_AREA * diameter**2


def _check_tare(section: Section, mass: float, tare: float, material: str) -> None:
    """Refuse a tare that is less than the body weighs."""
    if mass <= (1 + float(default("body.tare_tolerance").value)) * tare:
        return
    named = next(
        (key for key in ("tare", "wall", "size") if section.given(key) is not None), "tare"
    )
    raise section.error(
        named,
        f"found a tare of {show(tare, 'mass')}",
        f"a {material} body of this size and wall weighs {show(mass, 'mass')}: check them",
    )
