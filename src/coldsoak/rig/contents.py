"""What is in a cylinder at the start, held against what may be in it.

People say it in one of three ways: the mass of fuel, what the scale reads, or the liquid level.
"""

from collections.abc import Callable
from typing import NamedTuple

from coldsoak.cautions import OVERFILL
from coldsoak.errors import OverfillError, TripError
from coldsoak.rig.body import Body
from coldsoak.rig.catalogue import default
from coldsoak.rig.filling import Limits, rule
from coldsoak.rig.quantity import Quantity
from coldsoak.rig.resolve import Section
from coldsoak.rig.units import show


class Statement(NamedTuple):
    """One way to say what is in a cylinder.

    key : contents, gross or fill
    mass : fuel [kg] of a number under that key
    unknown : the numbers that "unknown" stands for, from empty to the limit
    most : most fuel that may be stated so [kg]
    limit : that limit in words
    """

    key: str
    mass: Callable[[float], float]
    unknown: tuple[float, float]
    most: float
    limit: str


def resolve_contents(section: Section, body: Body, found: Limits, most: float) -> float:
    """Mass of fuel at the start [kg].

    Raises TripError for contents that cannot be, OverfillError for more than may be.
    """
    said = _statement(section, body, found, most)
    quantity: Quantity = section.given(said.key)
    for end in (quantity.low, quantity.high):
        if end is not None:
            _check(section, said, said.mass(end), found)
    if said.key == "fill":
        _tell_density(section, found.liquid_full / body.volume)
    return said.mass(section.number(said.key, None, said.unknown))


def _statement(section: Section, body: Body, found: Limits, most: float) -> Statement:
    """The one way in which the file says it."""
    limit = f"{show(most, 'mass')} ({show(most, 'mass', 'us')}: {rule(found, most)})"
    level = found.by_level / found.liquid_full
    ways = (
        Statement("contents", lambda fuel: fuel, (0.0, most), most, limit),
        Statement(
            "gross", lambda scale: scale - body.tare, (body.tare, body.tare + most), most, limit
        ),
        Statement(
            "fill",
            lambda share: share * found.liquid_full,
            (0.0, level),
            found.by_level,
            f"{show(level, 'share')} liquid by volume",
        ),
    )
    given = [way for way in ways if section.given(way.key) is not None]
    if len(given) == 1:
        return given[0]
    raise section.record.source.error(
        section.at(given[1].key) if given else section.key,
        f"found {' and '.join(way.key for way in given)}"
        if given
        else "nothing says how much is in it",
        'give one of contents ("18.5 lb"), gross ("35.9 lb" on the scale) or fill ("80 %")',
    )


def reading_tolerance(key: str) -> float:
    """How far above its limit a statement may be: scales are rounded, a level is read as such."""
    return 1e-9 if key == "fill" else float(default("filling.reading_tolerance").value)


def _check(section: Section, said: Statement, contents: float, found: Limits) -> None:
    """Refuse contents that cannot be, and those above the filling limit."""
    if contents < 0:
        raise _refused(section, said, "the scale reads less than the empty cylinder", TripError)
    amount = f", {show(contents, 'mass')} of fuel"
    if contents > found.liquid_full:
        full = show(found.liquid_full, "mass")
        allowed = (
            f"the water capacity holds no more than {full} of liquid at 15 degC; if the scale "
            f"really says so, {OVERFILL}"
        )
        raise _refused(section, said, allowed, OverfillError, amount)
    if contents > said.most * (1 + reading_tolerance(said.key)):
        allowed = f"at most {said.limit} may be in it; {OVERFILL}"
        raise _refused(section, said, allowed, OverfillError, amount)


def _refused(
    section: Section, said: Statement, allowed: str, kind: type[TripError], amount: str = ""
) -> TripError:
    """The error about a statement, which shows it as it was written."""
    given: Quantity = section.given(said.key)
    texts = dict.fromkeys((given.low_text, given.high_text))
    return section.error(said.key, f'found "{" .. ".join(texts)}"{amount}', allowed, kind)


def _tell_density(section: Section, density: float) -> None:
    """Record the density that turned a level into a mass."""
    section.record.assume(
        (*section.at("fill"), "density at 15 degC"),
        f"{density:.0f} kg/m3",
        "fuel data: the lighter of the typical and the worst liquid",
    )
