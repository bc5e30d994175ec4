"""The shelter of the trip file resolved: heat transfer, leakage and heat capacity of two nodes."""

from typing import Any

from coldsoak.rig.catalogue import Sourced, catalogue, default, find, nearest, vents
from coldsoak.rig.coldface import coldest, face
from coldsoak.rig.document import (
    FloorTable,
    GlazingTable,
    LayerTable,
    OpeningTable,
    SurfaceTable,
)
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import ColdFace, Opening, Shelter
from coldsoak.rig.units import parse, show, shown


def resolve_shelter(section: Section) -> Shelter:
    """The shelter in SI; raises TripError."""
    floor = Section(section.record, FloorTable, section.given("floor"), section.at("floor"))
    floor_area, floor_ua = _envelope(floor, "down")
    surfaces = [_envelope(part) for part in _each(section, "surfaces", SurfaceTable)]
    windows = [_window(part) for part in _each(section, "windows", GlazingTable)]
    grounded = floor.word("to") == "ground"
    inside_area = floor_area + sum(area for area, _ in surfaces) + sum(w[0] for w in windows)
    ua = sum(part for _, part in surfaces) + sum(w[1] for w in windows)
    height = section.by_default("height")
    openings = tuple(_opening(part, height) for part in _each(section, "openings", OpeningTable))
    gaps = _leakage(section, floor_area)
    return Shelter(
        ua_air=ua + (0.0 if grounded else floor_ua),
        ua_ground=floor_ua if grounded else 0.0,
        ground_temperature=_ground(section, grounded),
        leakage_area=gaps + _discharge() * sum(opening.area for opening in openings),
        gap_area=gaps,
        openings=openings,
        window=coldest(w[3] for w in windows),
        wall=_coldest_wall(section, surfaces),
        wind_factor=section.by_default("wind_factor"),
        floor_area=floor_area,
        height=height,
        volume=section.number("volume", _volume(floor_area, height)),
        light_capacity=section.number("light_capacity", _light(floor_area)),
        heavy_capacity=_heavy(section, floor_area),
        coupling=_coupling(section, inside_area),
        sun_aperture=sum(w[2] for w in windows),
        start_temperature=_start(section),
    )


def _each(section: Section, name: str, kind: type[Any]) -> list[Section]:
    """One section for each entry of a list."""
    entries = section.given(name) or ()
    return [
        Section(section.record, kind, entry, (*section.at(name), index))
        for index, entry in enumerate(entries)
    ]


def _envelope(part: Section, faces: str | None = None) -> tuple[float, float]:
    """Area [m2] and heat transfer [W/K] of a surface or the floor."""
    area = part.number("area")
    if part.given("U") is not None:
        if part.given("layers") is not None:
            raise part.error("layers", "found U and layers", "give one of them")
        return area, area * part.number("U", Sourced(None, "", ("0.3 W/m2K", "3 W/m2K")))
    if part.given("layers") is None:
        raise part.record.source.error(
            part.key,
            "neither U nor layers is given",
            'give U ("0.9 W/m2K") or layers ([{ material = "XPS", thickness = "30 mm" }])',
        )
    return area, area / (_films(part, faces) + _layers(part))


def _films(part: Section, faces: str | None) -> float:
    """Surface resistances inside and outside [m2K/W], by the way that the outer face looks."""
    side = part.given("faces") or faces or part.word("faces", default("surface.faces"))
    film = catalogue("films")[side].values
    for name in ("inside", "outside"):
        part.record.assume((*part.key, f"{name} surface"), film[name].value, film[name].source)
    return sum(parse(film[name].value, "thermal_resistance") for name in ("inside", "outside"))


def _layers(part: Section) -> float:
    """Resistance of all layers in series [m2K/W] (ISO 6946)."""
    return sum(
        layer.number("thickness") / _conductivity(layer)
        for layer in _each(part, "layers", LayerTable)
    )


def _conductivity(layer: Section) -> float:
    """Conductivity of a layer, its own or that of its material [W/mK]."""
    name = layer.given("material")
    if name is None:
        return layer.number("conductivity")
    entry = find("materials", name)
    if entry is not None:
        return layer.number("conductivity", entry.values["conductivity"])
    if layer.given("conductivity") is not None:
        return layer.number("conductivity")
    known = list(catalogue("materials"))
    close = nearest(name, known)
    raise layer.error(
        "material",
        f"unknown material {shown(name)}",
        f"{f'did you mean {close}? ' if close else ''}allowed: {', '.join(known)}; "
        "or give conductivity",
    )


def _window(part: Section) -> tuple[float, float, float, ColdFace]:
    """Area [m2], heat transfer [W/K], sun aperture [m2] and inner face of a window."""
    area, transfer = part.number("area"), part.by_default("U")
    pane = face(area, transfer, part.by_default("inside_resistance"))
    return area, area * transfer, area * part.by_default("solar"), pane


def _coldest_wall(section: Section, surfaces: list[tuple[float, float]]) -> ColdFace:
    """The coldest of the surfaces, where the room's air hardly moves."""
    entry = default("shelter.wall_resistance")
    section.record.assume((*section.key, "wall_resistance"), entry.value, entry.source)
    resistance = parse(entry.value, "thermal_resistance")
    wall = coldest(face(area, ua / area, resistance) for area, ua in surfaces)
    assert wall is not None, "the schema asks for a surface"
    return wall


def _opening(part: Section, height: float) -> Opening:
    """A kind of vents; raises TripError if they lie above the room."""
    count = part.given("count") or 1
    middle = part.number("height", Sourced(None, "", ("0 m", f"{height:.3f} m")))
    if middle > height:
        raise part.error(
            "height",
            f"found {show(middle, 'length')}",
            f"the room is {show(height, 'length')} high",
        )
    return Opening(count * part.number("area"), middle)


def _ground(section: Section, grounded: bool) -> float | None:
    """Temperature of the ground [K] if the floor lies on it."""
    if grounded:
        return section.by_default("ground_temperature")
    if section.given("ground_temperature") is not None:
        section.record.note(
            "shelter.ground_temperature is not used: the floor is not to the ground."
        )
    return None


def _discharge() -> float:
    """Effective leakage area over free area of an opening."""
    return float(default("shelter.discharge").value)


def _leakage(section: Section, floor_area: float) -> float:
    """Effective leakage area without listed openings [m2].

    By default that of the fixed vents for the floor area; none where openings are listed.
    """
    entry, discharge = default("shelter.leakage"), _discharge()
    if section.given("openings") is not None:
        none = Sourced("0 cm2", "not given: openings are listed; gaps are not added", entry.unknown)
        return section.number("leakage", none)
    rows = vents()
    row = next((r for r in rows if floor_area <= parse(r["floor_up_to"], "area")), rows[-1])
    area = discharge * parse(row["opening"], "opening")
    text = show(area, "opening")
    return section.number("leakage", Sourced(text, entry.source, entry.unknown))


def _volume(floor_area: float, height: float) -> Sourced:
    return Sourced(f"{floor_area * height:.2f} m3", "computed: floor area times height")


def _light(floor_area: float) -> Sourced:
    """Heat capacity of air and light things by floor area."""
    entry = default("shelter.light_per_floor")
    return Sourced(f"{max(1.0, entry.value * floor_area):.1f} kJ/K", entry.source)


def _heavy(section: Section, floor_area: float) -> float:
    """Heat capacity of structure and furniture [J/K], given or by class and floor area."""
    if section.given("heavy_capacity") is not None:
        if section.given("mass") is not None:
            raise section.error("mass", "found mass and heavy_capacity", "give one of them")
        return section.number("heavy_capacity")
    per_floor = catalogue("shelters")[section.word("mass")].values["heavy_per_floor"]
    text = f"{max(1.0, float(per_floor.value) * floor_area):.1f} kJ/K"
    return section.number("heavy_capacity", Sourced(text, per_floor.source))


def _coupling(section: Section, inside_area: float) -> float:
    """Conductance between the two nodes [W/K]."""
    entry = default("shelter.coupling")
    coupling = float(entry.value) * inside_area
    section.record.assume((*section.key, "coupling"), show(coupling, "conductance"), entry.source)
    return coupling


def _start(section: Section) -> float | None:
    """Temperature inside at the start [K]; None if the file leaves it open."""
    if section.given("temperature") is None:
        section.record.assume(
            section.at("temperature"),
            "the set point of its thermostat, else that of the air",
            "not given: taken as warm when the trip starts",
        )
        return None
    return section.number("temperature")
