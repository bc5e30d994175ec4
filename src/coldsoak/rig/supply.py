"""The supply side of the trip file resolved: arrangement, regulator and its pressures."""

from coldsoak.rig.catalogue import Entry, catalogue, find, nearest
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import Cylinder, Supply
from coldsoak.rig.units import UnitsError, parse, shown

DISTILLATION_CAUTION = (
    "without check valves vapor distils from the warmer cylinder into the colder one and can "
    "over-fill it until it vents: open one cylinder at a time, or use a manifold with check valves"
)


def resolve_supply(section: Section, cylinders: tuple[Cylinder, ...]) -> Supply:
    """The supply of a trip; raises TripError."""
    arrangement = section.word("arrangement")
    regulator, outlet = _regulator(section)
    if arrangement == "together" and len(cylinders) > 1 and not section.word("check_valves"):
        raise section.error("check_valves", "found false", DISTILLATION_CAUTION)
    minimum = section.number("minimum_inlet", regulator.values["minimum_inlet"])
    changeover = _changeover(section, arrangement, minimum, cylinders)
    return Supply(arrangement, regulator.name, outlet, minimum, changeover)


def _regulator(section: Section) -> tuple[Entry, float]:
    """The catalogue entry and outlet pressure [Pa gauge] of a text such as "two-stage 11 inH2O"."""
    text = section.word("regulator").strip()
    first_digit = next((i for i, letter in enumerate(text) if letter.isdigit()), len(text))
    name, pressure = text[:first_digit].strip(), text[first_digit:]
    entry = find("regulators", name)
    if entry is None:
        raise _unknown_regulator(section, text, name)
    if not pressure:
        outlet = entry.values["outlet"]
        section.record.assume((*section.key, "outlet"), outlet.value, outlet.source)
        pressure = outlet.value
    else:
        section.record.ignore(section.at("regulator"), "'s outlet pressure")
    try:
        return entry, parse(pressure, "gauge_pressure")
    except UnitsError as error:
        raise section.error("regulator", error.found, error.allowed) from None


def _unknown_regulator(section: Section, text: str, name: str) -> Exception:
    known = list(catalogue("regulators"))
    close = nearest(name, known)
    return section.error(
        "regulator",
        f"found {shown(text)}",
        f"{f'did you mean {close}? ' if close else ''}"
        f'allowed: {", ".join(known)} and an outlet pressure, such as "two-stage 11 inH2O"',
    )


def _changeover(
    section: Section, arrangement: str, minimum: float, cylinders: tuple[Cylinder, ...]
) -> float:
    """Set point of an automatic changeover [Pa gauge]; told only where there is one."""
    if arrangement != "automatic changeover":
        if section.given("changeover") is not None:
            section.record.note(
                "supply.changeover is not used: the arrangement has no automatic changeover."
            )
        return 0.0
    if not any(cylinder.role == "reserve" for cylinder in cylinders):
        section.record.note(
            "The automatic changeover has no cylinder with the role reserve to change to."
        )
    value = section.by_default("changeover")
    if value < minimum:
        section.record.note(
            "The changeover is set below the least inlet pressure: supply fails before it opens."
        )
    return value
