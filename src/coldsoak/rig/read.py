"""A trip file read: its text, its schema, and every value settled in SI units."""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from coldsoak.rig.air import resolve_air
from coldsoak.rig.appliance import resolve_appliance
from coldsoak.rig.catalogue import default
from coldsoak.rig.cylinder import resolve_cylinder
from coldsoak.rig.document import (
    AirTable,
    ApplianceTable,
    CylinderTable,
    FuelTable,
    LineTable,
    PeopleTable,
    ShelterTable,
    SupplyTable,
    TripDocument,
    TripTable,
)
from coldsoak.rig.fuel import resolve_fuel
from coldsoak.rig.inlet import resolve_inlet
from coldsoak.rig.line import resolve_line
from coldsoak.rig.mistakes import first_mistake
from coldsoak.rig.people import resolve_people
from coldsoak.rig.resolve import Record, Section
from coldsoak.rig.route import REGULATOR, check_route, pressure_before
from coldsoak.rig.setting import resolve_place, resolve_start, resolve_weather
from coldsoak.rig.shelter import resolve_shelter
from coldsoak.rig.source import Source
from coldsoak.rig.supply import resolve_supply
from coldsoak.rig.tomlfile import TomlFile, parse_toml, read_toml
from coldsoak.rig.trip import (
    AirLimits,
    Appliance,
    Cylinder,
    Fuel,
    Level,
    Line,
    People,
    Supply,
    Trip,
)
from coldsoak.rig.units import shown

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def read_trip(path: Path | str) -> Trip:
    """Read and resolve a trip file, uncertain inputs at their middle.

    Raises TripError with file, line, key, what was found, what is allowed and the nearest known
    word; OverfillError for a cylinder above its filling limit.
    """
    file = Path(path)
    return _resolve(_checked(read_toml(file), file), {})


def parse_trip(text: str, name: str = "trip.toml", path: Path | None = None) -> Trip:
    """The same for a text; weather files are looked for beside `path`."""
    return _resolve(_checked(parse_toml(text, name), path), {})


def settle(trip: Trip, levels: Mapping[str, Level]) -> Trip:
    """The same trip with uncertain inputs at another level.

    `levels` maps keys of ``trip.uncertain`` to "low", "middle" or "high"; the others stay at their
    middle. Raises LookupError for a key that is not uncertain in this trip.
    """
    unknown = set(levels) - {each.key for each in trip.uncertain}
    if unknown:
        raise LookupError(f"not uncertain in this trip: {', '.join(sorted(unknown))}")
    return _resolve(trip.source, levels)


def _checked(toml: TomlFile, path: Path | None) -> Source:
    """The document of a file, held against the schema."""
    try:
        document = TripDocument.model_validate(toml.data)
    except ValidationError as error:
        raise first_mistake(error, toml) from None
    return Source(toml, document, path)


def _resolve(source: Source, levels: Mapping[str, Level]) -> Trip:
    """The trip of a document."""
    record, document = Record(source, levels), source.document
    trip = Section(record, TripTable, document.trip, ("trip",))
    folder = source.path.absolute().parent if source.path else Path.cwd()
    weather = resolve_weather(trip, folder)
    fuel = resolve_fuel(Section(record, FuelTable, document.fuel, ("fuel",)))
    cylinders = _cylinders(record, document, fuel)
    supply = resolve_supply(
        Section(record, SupplyTable, document.supply, ("supply",)), cylinders, _detailed(document)
    )
    lines = _lines(record, document)
    return Trip(
        name=_name(trip, source),
        path=source.path,
        start=resolve_start(trip),
        length=trip.number("length", default("trip.length")),
        place=resolve_place(trip),
        weather=weather,
        fuel=fuel,
        cylinders=cylinders,
        supply=supply,
        lines=lines,
        appliances=_appliances(record, document, lines, supply),
        shelter=_shelter(record, document),
        people=_people(record, document),
        air=_air(record, document),
        assumptions=tuple(record.assumptions),
        uncertain=tuple(record.uncertain),
        notes=record.notes(),
        source=source,
    )


def _name(trip: Section, source: Source) -> str:
    """The trip's name; a file without one is called by its folder or file name."""
    given: str | None = trip.given("name")
    if given is not None:
        return given
    path = source.path.absolute() if source.path else Path("trip")
    return path.parent.name if path.stem == "trip" and path.parent.name else path.stem


def _cylinders(record: Record, document: TripDocument, fuel: Fuel) -> tuple[Cylinder, ...]:
    names = _names(record, "cylinder", document.cylinder, _letters(len(document.cylinder)))
    return tuple(
        resolve_cylinder(Section(record, CylinderTable, table, ("cylinder", index)), name, fuel)
        for index, (table, name) in enumerate(zip(document.cylinder, names, strict=True))
    )


def _detailed(document: TripDocument) -> bool:
    """Whether the regulator's numbers matter: lines, or further regulators, stand behind it."""
    further = [table for table in document.appliance or [] if table.regulator is not None]
    return bool(document.line or further)


def _appliance_names(record: Record, document: TripDocument) -> list[str]:
    tables = document.appliance or []
    return _names(record, "appliance", tables, [table.kind for table in tables])


def _appliances(
    record: Record, document: TripDocument, lines: tuple[Line, ...], supply: Supply
) -> tuple[Appliance, ...]:
    found = []
    for index, name in enumerate(_appliance_names(record, document)):
        table = (document.appliance or [])[index]
        section = Section(record, ApplianceTable, table, ("appliance", index))
        inlet = resolve_inlet(section, pressure_before(name, lines, supply), bool(lines))
        found.append(resolve_appliance(section, name, document.shelter is not None, inlet))
    return tuple(found)


def _lines(record: Record, document: TripDocument) -> tuple[Line, ...]:
    """The lines of a trip, which hang together."""
    tables = document.line or []
    usual = [f"{table.start or REGULATOR} to {table.end}" for table in tables]
    lines = tuple(
        resolve_line(Section(record, LineTable, table, ("line", index)), name)
        for index, (table, name) in enumerate(
            zip(tables, _names(record, "line", tables, usual), strict=True)
        )
    )
    check_route(record, tables, lines, _appliance_names(record, document))
    if lines:
        record.ignore(("line",), "s in the plan")
    return lines


def _letters(count: int) -> list[str]:
    """Names for cylinders that have none: A to Z, then A2 and so on."""
    return [
        LETTERS[index % 26] + (str(index // 26 + 1) if index >= 26 else "")
        for index in range(count)
    ]


def _names(
    record: Record, table: str, entries: Iterable[BaseModel], defaults: list[str]
) -> list[str]:
    """The names of all entries; raises TripError if two are the same."""
    names: list[str] = []
    for index, entry in enumerate(entries):
        given: Any = getattr(entry, "name")  # noqa: B009
        name = given if given is not None else _free(defaults[index], names)
        if name in names:
            raise record.source.error(
                (table, index, "name"), f"found the name {shown(name)} twice", "each needs its own"
            )
        names.append(name)
    return names


def _free(name: str, taken: list[str]) -> str:
    """The name, or the name with the first number that makes it new."""
    number, free = 2, name
    while free in taken:
        free, number = f"{name} {number}", number + 1
    return free


def _shelter(record: Record, document: TripDocument) -> Any:
    if document.shelter is None:
        return None
    return resolve_shelter(Section(record, ShelterTable, document.shelter, ("shelter",)))


def _people(record: Record, document: TripDocument) -> People | None:
    if document.people is None:
        return None
    return resolve_people(
        Section(record, PeopleTable, document.people, ("people",)),
        document.shelter is not None,
        any(table.kind == "stove" for table in document.appliance or ()),
    )


def _air(record: Record, document: TripDocument) -> AirLimits:
    return resolve_air(Section(record, AirTable, document.air, ("air",)))
