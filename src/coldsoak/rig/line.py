"""A line of the trip file resolved: bore, wall, length with its fittings, what stands in it."""

from typing import NamedTuple

from coldsoak.rig.catalogue import Entry, Sourced, catalogue, find, nearest
from coldsoak.rig.regulator import named, resolve_regulator
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import Line, QuickConnect, Regulator
from coldsoak.rig.units import parse, shown


class Bore(NamedTuple):
    """The inside of a line [m]; see coldsoak.rig.trip.Line."""

    size: str
    diameter: float
    roughness: float
    friction: float
    code_diameter: float


def resolve_line(section: Section, name: str) -> Line:
    """One line in SI; raises TripError. Where it begins and leads is checked with the others."""
    kind = section.given("kind")
    bore = _bore(section, kind)
    return Line(
        name=name,
        start=section.word("start"),
        end=section.given("end"),
        kind=kind,
        size=bore.size,
        length=section.number("length"),
        fittings_length=_fittings_length(section, bore.diameter),
        diameter=bore.diameter,
        roughness=bore.roughness,
        friction=bore.friction,
        code_diameter=bore.code_diameter,
        fittings=tuple((section.given("fittings") or {}).items()),
        quick_connect=_quick_connect(section),
        regulator=_regulator(section),
    )


def sizes(kind: str) -> list[Entry]:
    """The catalogue's sizes of a kind of line, from narrow to wide."""
    return [entry for entry in catalogue("lines").values() if entry.values["kind"].value == kind]


def _bore(section: Section, kind: str) -> Bore:
    """The inside of a line by its size or its diameter."""
    size = section.given("size")
    entry = _entry(section, kind, size) if size is not None else None
    if entry is None and section.given("diameter") is None:
        raise section.error(
            "size", "nothing says how wide the line is", "give its size or its inside diameter"
        )
    if entry is None or section.given("diameter") is not None:
        return _given_bore(section, kind)
    return bore_of(entry)


def _entry(section: Section, kind: str, size: str) -> Entry:
    """A size of the catalogue, or an error that names those of its kind."""
    entry = find("lines", f"{kind} {size}")
    if entry is None:
        known = [each.values["size"].value for each in sizes(kind)]
        close = nearest(size, known)
        hint = f'did you mean "{close}"? ' if close else ""
        raise section.error(
            "size",
            f"found {shown(size)}",
            f"{hint}sizes of {kind}: {', '.join(known)}; or give its inside diameter",
        )
    return entry


def bore_of(entry: Entry) -> Bore:
    """The inside of a size of the catalogue."""
    values = entry.values
    diameter = parse(values["diameter"].value, "length")
    code = values.get("code_diameter")
    friction = values.get("friction")
    return Bore(
        entry.name,
        diameter,
        parse(values["roughness"].value, "length"),
        float(friction.value) if friction else 0.0,
        parse(code.value, "length") if code else diameter,
    )


def _given_bore(section: Section, kind: str) -> Bore:
    """A line of a diameter of its own, with the wall of its kind."""
    if kind == "CSST":
        raise section.error(
            "diameter",
            "found the diameter of corrugated tubing",
            "give its size by equivalent hydraulic diameter, such as EHD 18: the corrugations "
            "cost more than its diameter tells",
        )
    diameter = section.number("diameter")
    roughness = sizes(kind)[0].values["roughness"]
    section.record.assume((*section.key, "roughness"), roughness.value, roughness.source)
    return Bore("", diameter, parse(roughness.value, "length"), 0.0, diameter)


def _fittings_length(section: Section, diameter: float) -> float:
    """Length of line [m] that costs as much as all fittings; raises TripError for unknown ones."""
    fittings = section.given("fittings") or {}
    for name in fittings:
        if find("fittings", name) is None:
            raise _unknown_fitting(section, name)
    return fittings_worth(tuple(fittings.items()), diameter)


def fittings_worth(fittings: tuple[tuple[str, int], ...], diameter: float) -> float:
    """Length of line [m] of a diameter [m] that costs as much as the fittings."""
    diameters = 0.0
    for name, count in fittings:
        entry = find("fittings", name)
        assert entry is not None, "unknown fittings are refused when the trip is read"
        diameters += count * float(entry.values["diameters"].value)
    return diameters * diameter


def _unknown_fitting(section: Section, name: str) -> Exception:
    known = list(catalogue("fittings"))
    close = nearest(name, known)
    return section.record.source.error(
        (*section.at("fittings"), name),
        f"unknown fitting {shown(name)}",
        f"{f'did you mean {close}? ' if close else ''}allowed: {', '.join(known)}",
    )


def _quick_connect(section: Section) -> QuickConnect | None:
    """The quick-connect outlet at the beginning of a line, None without one."""
    size = section.given("quick_connect")
    if size is None:
        return None
    entry = find("quick_connects", size)
    if entry is None:
        known = list(catalogue("quick_connects"))
        raise section.error("quick_connect", f"found {shown(size)}", f"allowed: {', '.join(known)}")
    _tell(section, "rating", entry.values["rating"])
    _tell(section, "drop", entry.values["drop"])
    return QuickConnect(
        entry.name,
        parse(entry.values["rating"].value, "gas_rate"),
        parse(entry.values["drop"].value, "gauge_pressure"),
    )


def _tell(section: Section, what: str, value: Sourced) -> None:
    """Record a number of a quick-connect as an assumption."""
    section.record.assume((*section.at("quick_connect"), what), value.value, value.source)


def _regulator(section: Section) -> Regulator | None:
    """A further regulator; its seat alone says what inlet pressure it needs."""
    if section.given("regulator") is None:
        return None
    return resolve_regulator(section, named(section), 0.0)
