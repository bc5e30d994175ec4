"""A cylinder of the trip file resolved: its body, its contents and the place where it stands."""

from typing import Literal

from coldsoak.errors import TripError
from coldsoak.rig.body import of_size, resolve_body
from coldsoak.rig.catalogue import Entry, Sourced, catalogue, default, find, nearest
from coldsoak.rig.contents import reading_tolerance, resolve_contents
from coldsoak.rig.document import HeaterTable
from coldsoak.rig.filling import limit, limits, rule
from coldsoak.rig.quantity import Measured, Quantity
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import Cylinder, Fuel
from coldsoak.rig.units import parse, show, shown


def resolve_cylinder(section: Section, name: str, fuel: Fuel) -> Cylinder:
    """One cylinder in SI; raises TripError or OverfillError."""
    size = _size(section)
    body = resolve_body(section, size)
    found = limits(body.volume, fuel)
    most = limit(found, _marked_fill(size))
    contents = resolve_contents(section, body, found, most)
    if contents > most:
        over = show(reading_tolerance("contents"), "share")
        section.record.note(f"{name}: the contents are up to {over} above the filling limit.")
    section.record.assume((*section.key, "limit"), show(most, "mass"), rule(found, most))
    place = section.word("place")
    heater, heater_on = _heater(section)
    return Cylinder(
        name=name,
        size=size.name if size else "its own numbers",
        role=section.word("role"),
        water_capacity=body.volume,
        diameter=body.diameter,
        thickness=body.thickness,
        tare=body.tare,
        material=body.material,
        upright=section.word("orientation", of_size(size, "orientation")) == "upright",
        contents=contents,
        limit=most,
        start_temperature=_start_temperature(section),
        place=place,
        wind_factor=_of_place(section, place, "wind_factor"),
        sky_view=_of_place(section, place, "sky_view"),
        sun_view=_place_number(section, place, "sun_view", "share"),
        cover=_place_number(section, place, "cover", "thermal_resistance")
        + section.by_default("insulation"),
        emissivity=section.by_default("emissivity"),
        absorptivity=section.by_default("absorptivity"),
        heater=heater,
        heater_on=heater_on,
    )


def _size(section: Section) -> Entry | None:
    """The catalogue entry of `size`, in the material that the trip names."""
    given, material = section.given("size"), section.given("material")
    if given is None:
        return None
    entry = find("cylinders", given)
    if entry is None:
        raise _unknown_size(section, given)
    if material in (None, entry.values["material"].value):
        return entry
    variant = find("cylinders", f"{' '.join(entry.name.split()[:2])} {material}")
    if variant is None and None in (section.given("wall"), section.given("tare")):
        raise section.error(
            "material",
            f'found "{material}"',
            f"the catalogue has no {entry.name} of it: give its wall and tare",
        )
    return variant or entry


def _unknown_size(section: Section, given: str) -> TripError:
    known = list(catalogue("cylinders"))
    close = nearest(given, known)
    hint = f'did you mean "{close}"? ' if close else ""
    return section.error(
        "size",
        f"unknown size {shown(given)}",
        f"{hint}allowed: {', '.join(known)}; or give water_capacity and diameter",
    )


def _marked_fill(size: Entry | None) -> float | None:
    """The fill that a catalogued cylinder is sold with [kg]."""
    value = size.values.get("marked_fill") if size else None
    return parse(value.value, "mass") if value else None


def _start_temperature(section: Section) -> float | None:
    """Temperature of the contents at the start [K]; None stands for the air's."""
    if section.given("temperature") is None:
        section.record.assume(
            section.at("temperature"),
            "that of the air",
            "not given: it has stood outside long enough",
        )
        return None
    return section.number("temperature")


def _of_place(section: Section, place: str, key: str) -> float:
    """A number that the trip may give, or else the place does."""
    of_place = catalogue("places")[place].values[key]
    ends = default(f"cylinder.{key}").unknown
    source = f"{place}: {of_place.source}"
    return section.number(key, Sourced(of_place.value, source, ends))


def _place_number(section: Section, place: str, key: str, dimension: str) -> float:
    """A number that only the place gives."""
    value = catalogue("places")[place].values[key]
    section.record.assume((*section.key, key), value.value, f"{place}: {value.source}")
    return parse(value.value, dimension)


def _heater(section: Section) -> tuple[float, Literal["always"] | float]:
    """Power of the heater [W] and the temperature below which it runs [K]."""
    table = section.given("heater")
    if table is None:
        return 0.0, "always"
    heater = Section(section.record, HeaterTable, table, section.at("heater"))
    on = heater.word("on")
    if isinstance(on, Quantity):
        on = heater.settled(heater.at("on"), Measured("temperature"), on)
    return heater.number("power"), on
