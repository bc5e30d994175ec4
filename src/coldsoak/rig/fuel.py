"""The fuel of a trip: a grade by name, or mole fractions."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from coldsoak.errors import InputError
from coldsoak.rig.catalogue import default, nearest, plain
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import Fractions, Fuel
from coldsoak.rig.units import shown

COMPONENTS = ("ethane", "propane", "propylene", "isobutane", "n-butane")
"""Order of mole fractions, that of :data:`coldsoak.physics.fuel.COMPONENTS`."""
ROUNDING = 0.01  # fractions written to two digits may miss 1 by this much together


@cache
def grades() -> dict[str, dict[str, Any]]:
    """The grades of ``grades.toml`` by name."""
    text = (files("coldsoak.rig") / "grades.toml").read_text("utf-8")
    return {grade["name"]: grade for grade in tomllib.loads(text)["grade"]}


def resolve_fuel(section: Section) -> Fuel:
    """The fuel of a trip; raises TripError for an unknown grade or fractions that do not add up."""
    blend = section.given("blend")
    if isinstance(blend, dict):
        return _blend(section, blend)
    if blend is None:
        assumed = default("fuel.blend")
        section.record.assume(section.at("blend"), assumed.value, assumed.source)
        blend = assumed.value
    return _grade(section, blend)


def find_grade(name: str) -> dict[str, Any] | None:
    """A grade however it is spaced and capitalized, or None."""
    spellings = {
        plain(spelling): grade
        for grade in grades().values()
        for spelling in (grade["name"], *grade.get("aliases", ()))
    }
    return spellings.get(plain(name))


def typical_of(name: str) -> Fractions:
    """Typical mole fractions of a grade; raises InputError for an unknown one."""
    grade = find_grade(name)
    if grade is None:
        raise InputError(f"unknown grade {shown(name)}", f"allowed: {', '.join(grades())}")
    return _fractions(grade["typical"])


def _grade(section: Section, name: str) -> Fuel:
    """A grade's typical and worst composition."""
    grade = find_grade(name)
    if grade is None:
        raise _unknown_grade(section, name)
    for which in ("typical", "worst"):
        text = ", ".join(f"{100 * share:g} % {part}" for part, share in grade[which].items())
        section.record.assume((*section.at("blend"), which), text, grade["source"])
    typical, worst = (_fractions(grade[which]) for which in ("typical", "worst"))
    return Fuel(grade["name"], typical, worst)


def _unknown_grade(section: Section, name: str) -> Exception:
    known = list(grades())
    close = nearest(name, known)
    hint = f'did you mean "{close}"? ' if close else ""
    return section.error(
        "blend",
        f"unknown grade {shown(name)}",
        f"{hint}allowed: {', '.join(known)}, or mole fractions "
        "such as { propane = 0.6, n-butane = 0.4 }",
    )


def _blend(section: Section, blend: dict[str, float]) -> Fuel:
    """A blend given as mole fractions; typical and worst are the same."""
    for component in blend:
        if component not in COMPONENTS:
            close = nearest(component, COMPONENTS)
            raise section.record.source.error(
                (*section.at("blend"), component),
                f"unknown component {shown(component)}",
                f"{f'did you mean {close}? ' if close else ''}allowed: {', '.join(COMPONENTS)}",
            )
    total = sum(blend.values())
    if abs(total - 1.0) > ROUNDING:
        raise section.error(
            "blend", f"the mole fractions add up to {total:.4g}", "they must add up to 1"
        )
    fractions = _fractions(blend)
    name = ", ".join(f"{100 * share:g} % {part}" for part, share in blend.items() if share)
    return Fuel(name, fractions, fractions)


def _fractions(shares: dict[str, float]) -> Fractions:
    """Mole fractions in the order of COMPONENTS, divided by their sum."""
    total = sum(shares.values())
    ethane, propane, propylene, isobutane, butane = (
        shares.get(component, 0.0) / total for component in COMPONENTS
    )
    return ethane, propane, propylene, isobutane, butane
