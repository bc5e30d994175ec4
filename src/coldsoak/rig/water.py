"""Water of the trip file that must not freeze, resolved: tanks and pipes."""

from dataclasses import dataclass

from coldsoak.rig.catalogue import Sourced
from coldsoak.rig.resolve import Section
from coldsoak.rig.units import show

BOX_AREA = 7.0
"""Surface of a box of 4 : 2 : 1 over the power 2/3 of its volume, 28 / 8^(2/3)."""

LEAST_AREA = 4.83
"""The same of a ball, (36 pi)^(1/3), rounded down: nothing has less."""


@dataclass(frozen=True)
class Tank:
    """Volume [m3] and surface [m2]."""

    volume: float
    area: float


@dataclass(frozen=True)
class Pipe:
    """Inside diameter [m]."""

    diameter: float


@dataclass(frozen=True)
class Water:
    """Water that must not freeze.

    Attributes
    ----------
    held_in : tank or pipe
    insulation : resistance around it [m2 K/W]
    inside : in the shelter, else in the outside air
    ice : share of ice at which it counts as frozen
    """

    name: str
    held_in: Tank | Pipe
    insulation: float
    inside: bool
    ice: float


def resolve_water(section: Section, name: str, sheltered: bool) -> Water:
    """One tank or pipe in SI; raises TripError."""
    held_in = _held_in(section)
    inside = section.word("place") == "inside"
    if inside and not sheltered:
        raise section.error(
            "place", "it stands inside", 'there is no [shelter]: give place = "outside"'
        )
    ice = section.by_default("ice")
    if ice <= 0.0:
        raise section.error("ice", f"found {ice:.0%}", "it must be more than 0 %")
    return Water(name, held_in, section.by_default("insulation"), inside, ice)


def _held_in(section: Section) -> Tank | Pipe:
    """A tank by its volume, or a pipe by its diameter; a pipe's length changes nothing."""
    given = [key for key in ("volume", "area", "length", "diameter") if _has(section, key)]
    if set(given) in ({"diameter"}, {"diameter", "length"}):
        section.ignore_given("length")
        return Pipe(section.number("diameter"))
    if set(given) in ({"volume"}, {"volume", "area"}):
        return _tank(section)
    raise section.record.source.error(
        section.key,
        f"found {' and '.join(given) or 'neither volume nor diameter'}",
        'give volume ("60 L") and, if known, area of a tank, or diameter ("12 mm") of a pipe',
    )


def _has(section: Section, key: str) -> bool:
    return section.given(key) is not None


def _tank(section: Section) -> Tank:
    """A tank; a box of 4 : 2 : 1 unless its surface is given."""
    volume = section.number("volume")
    usual = Sourced(
        f"{BOX_AREA * volume ** (2.0 / 3.0):.5f} m2",
        "not given: a flat box, 4 : 2 : 1 (common practice, no source)",
    )
    area = section.number("area", usual)
    if area < LEAST_AREA * volume ** (2.0 / 3.0):
        raise section.error(
            "area",
            f"found {show(area, 'area')} for {show(volume, 'volume')}",
            "no body of this volume has so little surface",
        )
    return Tank(volume, area)
