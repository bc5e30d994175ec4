"""A regulator of the trip file resolved: its kind and outlet, and the numbers of its catalogue."""

from typing import NamedTuple

from coldsoak.rig.catalogue import Entry, Sourced, catalogue, find, nearest
from coldsoak.rig.document import RegulatorTable
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import Regulator
from coldsoak.rig.units import UnitsError, parse, show, shown

HEADROOM = 34.5e3
"""Inlet above the outlet that a regulator of high outlet pressure needs [Pa]: 5 psi (common
practice, no source)."""

HIGHEST_OUTLET = 300e3
"""Highest outlet pressure of a regulator of a trip file [Pa gauge]."""


class Named(NamedTuple):
    """What the words of a regulator say: its entry in the catalogue and its outlet [Pa gauge]."""

    entry: Entry
    outlet: float


def named(section: Section) -> Named:
    """The kind and outlet of a table's `regulator`, such as "two-stage 11 inH2O".

    Raises TripError for a kind that is not in the catalogue and for an outlet that cannot be.
    """
    place, key, text = _words(section)
    first_digit = next((i for i, letter in enumerate(text) if letter.isdigit()), len(text))
    name, pressure = text[:first_digit].strip(), text[first_digit:]
    entry = find("regulators", name)
    if entry is None:
        raise _unknown(place, key, text, name)
    if not pressure:
        usual = entry.values["outlet"]
        place.record.assume((*section.key, "outlet"), usual.value, usual.source)
        pressure = usual.value
    return Named(entry, _outlet(place, key, pressure))


def _words(section: Section) -> tuple[Section, str, str]:
    """The table, key and words that say what a regulator is."""
    given = section.given("regulator")
    if isinstance(given, RegulatorTable):
        return _numbers(section), "kind", given.kind.strip()
    return section, "regulator", section.word("regulator").strip()


def _numbers(section: Section) -> Section:
    """The table of a regulator's numbers; empty where the file gives only its words."""
    given = section.given("regulator")
    model = given if isinstance(given, RegulatorTable) else None
    return Section(section.record, RegulatorTable, model, section.at("regulator"))


def _unknown(place: Section, key: str, text: str, name: str) -> Exception:
    known = list(catalogue("regulators"))
    close = nearest(name, known)
    return place.error(
        key,
        f"found {shown(text)}",
        f"{f'did you mean {close}? ' if close else ''}"
        f'allowed: {", ".join(known)} and an outlet pressure, such as "two-stage 11 inH2O"',
    )


def _outlet(place: Section, key: str, pressure: str) -> float:
    """An outlet pressure [Pa gauge] inside what regulators give."""
    try:
        outlet = parse(pressure, "gauge_pressure")
    except UnitsError as error:
        raise place.error(key, error.found, error.allowed) from None
    if not 0.0 < outlet <= HIGHEST_OUTLET:
        highest = show(HIGHEST_OUTLET, "gauge_pressure")
        raise place.error(
            key,
            f"found the outlet pressure {shown(pressure.strip())}",
            f"it must be more than 0 and at most {highest}",
        )
    return outlet


def resolve_regulator(section: Section, words: Named, minimum_inlet: float) -> Regulator:
    """The regulator of a table with every number settled; raises TripError.

    `minimum_inlet` is the least inlet pressure by its maker [Pa gauge], 0 for its seat alone.
    """
    numbers, values = _numbers(section), words.entry.values
    outlet = words.outlet
    return Regulator(
        kind=words.entry.name,
        belongs=values["belongs"].value,
        outlet=outlet,
        capacity=numbers.number("capacity", values["capacity"]),
        droop=numbers.number("droop", _part_of(values["droop"], outlet)),
        lock_up=outlet * numbers.number("lock_up", values["lock_up"]),
        minimum_inlet=minimum_inlet,
        rated_inlet=_rated_inlet(words),
        inlet_limit=_pressure(values["inlet_limit"]),
        inlet_effect=float(values["inlet_effect"].value),
        reference=_pressure(values["reference"]),
        intermediate=_of_two_stages(values, "intermediate"),
        between=_of_two_stages(values, "between"),
        backward=bool(numbers.given("reversed")),
    )


def _part_of(share: Sourced, outlet: float) -> Sourced:
    """A share of the outlet pressure as a pressure."""
    ends = share.unknown
    return Sourced(
        _share_text(share.value, outlet),
        f"{share.value} of its outlet: {share.source}",
        (_share_text(ends[0], outlet), _share_text(ends[1], outlet)) if ends else None,
    )


def _share_text(share: str, outlet: float) -> str:
    return f"{parse(share, 'share') * outlet:.1f} Pa"


def _rated_inlet(words: Named) -> float:
    """Inlet pressure of the rated capacity [Pa gauge]; well above an outlet that is high."""
    usual = _pressure(words.entry.values["rated_inlet"])
    return usual if usual > 1.5 * words.outlet else words.outlet + HEADROOM


def _of_two_stages(values: dict[str, Sourced], key: str) -> float | None:
    return _pressure(values[key]) if key in values else None


def _pressure(value: Sourced) -> float:
    return parse(value.value, "gauge_pressure")


def least_inlet(words: Named) -> Sourced:
    """Default of the least inlet pressure of the first regulator behind the cylinders.

    That of the catalogue; a regulator whose outlet is as high needs 5 psi above its outlet. A
    first stage works below its setting, wide open.
    """
    usual = words.entry.values["minimum_inlet"]
    if words.entry.name == "first-stage" or words.outlet < _pressure(usual):
        return usual
    return Sourced(
        show(words.outlet + HEADROOM, "gauge_pressure"),
        "computed: its outlet and 5 psi (common practice, no source)",
    )
