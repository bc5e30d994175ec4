"""A cylinder of the trip file resolved: contents against what may be in it, and its place."""

from collections.abc import Callable
from typing import Literal

from coldsoak.errors import OverfillError, TripError
from coldsoak.rig.body import Body, of_size, resolve_body
from coldsoak.rig.catalogue import Entry, Sourced, catalogue, default, find, nearest
from coldsoak.rig.document import HeaterTable
from coldsoak.rig.filling import Limits, limit, limits, rule
from coldsoak.rig.quantity import Measured, Quantity
from coldsoak.rig.resolve import Record, Section
from coldsoak.rig.trip import Cylinder, Fuel
from coldsoak.rig.units import parse, show, shown

OVERFILL_CAUTION = (
    "an over-filled cylinder can become liquid-full as it warms and vent or burst: do not use it, "
    "do not carry it, do not bring it indoors and do not let gas out of it yourself; leave it "
    "outside and upright, away from people, flames and anything that sparks, and call the "
    "gas supplier"
)


def resolve_cylinder(section: Section, name: str, fuel: Fuel) -> Cylinder:
    """One cylinder in SI; raises TripError or OverfillError."""
    size = _size(section)
    body = resolve_body(section, size)
    found = limits(body.volume, fuel)
    most = limit(found, _marked_fill(size))
    contents = _contents(section, body, found, most)
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
        sun_view=_place_number(section.record, section, place, "sun_view", "share"),
        cover=_place_number(section.record, section, place, "cover", "thermal_resistance")
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


def _contents(section: Section, body: Body, found: Limits, most: float) -> float:
    """Mass of fuel at the start, from contents, gross or fill [kg]."""
    name = _stated_by(section)
    to_mass = _to_mass(name, body.tare, found)
    quantity: Quantity = section.given(name)
    for end in (quantity.low, quantity.high):
        if end is not None:
            _check_contents(section, name, to_mass(end), found, most)
    if name == "fill":
        density = found.liquid_full / body.volume
        source = "fuel data: the lighter of the typical and the worst liquid"
        section.record.assume(
            (*section.at("fill"), "density at 15 degC"), f"{density:.0f} kg/m3", source
        )
    unknown = {"contents": (0.0, most), "gross": (body.tare, body.tare + most), "fill": (0.0, 0.8)}[
        name
    ]
    return to_mass(section.number(name, None, unknown))


def _stated_by(section: Section) -> str:
    """The one key that says how much is in it."""
    names = [name for name in ("contents", "gross", "fill") if section.given(name) is not None]
    if len(names) == 1:
        return names[0]
    raise section.record.source.error(
        section.at(names[1]) if names else section.key,
        f"found {' and '.join(names)}" if names else "nothing says how much is in it",
        'give one of contents ("18.5 lb"), gross ("35.9 lb" on the scale) or fill ("80 %")',
    )


def _to_mass(name: str, tare: float, found: Limits) -> Callable[[float], float]:
    """How a number under one of the three keys becomes a mass of fuel [kg]."""
    if name == "gross":
        return lambda gross: gross - tare
    if name == "fill":
        return lambda share: share * found.liquid_full
    return lambda contents: contents


def _check_contents(
    section: Section, name: str, contents: float, found: Limits, most: float
) -> None:
    """Refuse contents that cannot be, and those above the filling limit."""
    given = section.given(name)
    text = (
        given.low_text
        if given.low_text == given.high_text
        else (f"{given.low_text} .. {given.high_text}")
    )
    if contents < 0:
        raise section.error(name, f'found "{text}"', "the scale reads less than the empty cylinder")
    if contents > found.liquid_full:
        raise section.error(
            name,
            f'found "{text}", {show(contents, "mass")} of fuel',
            f"the water capacity holds no more than {show(found.liquid_full, 'mass')} "
            f"of liquid at 15 degC; if the scale really says so, {OVERFILL_CAUTION}",
            OverfillError,
        )
    over_level = name == "fill" and contents > 0.8 * found.liquid_full * (1 + 1e-9)
    if contents > most * (1 + float(default("filling.reading_tolerance").value)) or over_level:
        raise section.error(
            name,
            f'found "{text}", {show(contents, "mass")} of fuel',
            f"at most {_most(found, most, over_level)} may be in it; {OVERFILL_CAUTION}",
            OverfillError,
        )


def _most(found: Limits, most: float, over_level: bool) -> str:
    """The limit and which rule sets it."""
    if over_level:
        return "80 % liquid by volume"
    return f"{show(most, 'mass')} ({show(most, 'mass', 'us')}: {rule(found, most)})"


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


def _place_number(record: Record, section: Section, place: str, key: str, dimension: str) -> float:
    """A number that only the place gives."""
    value = catalogue("places")[place].values[key]
    record.assume((*section.key, key), value.value, f"{place}: {value.source}")
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
