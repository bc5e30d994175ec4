"""The columns of a journal as CSV: those that an export has, and those that people add.

An export has one row for each reading, corrected and withdrawn ones too. A file from a person may
also have a column for each kind of reading, with its unit in the header: "gross weight [lb]".
"""

import re
from typing import Final, NamedTuple

from coldsoak.errors import InputError
from coldsoak.ledger.kinds import Kind, kinds
from coldsoak.rig.catalogue import nearest, plain
from coldsoak.rig.units import STANDARD_SPELLING, dimensions, shown, units_of

EXPORTED: Final = (
    "id",
    "time",
    "cylinder",
    "appliance",
    "kind",
    "reading",
    "value",
    "unit",
    "temperature",
    "temperature [K]",
    "note",
    "entered [UTC]",
    "corrects",
    "withdrawn [UTC]",
    "because",
)
"""The header of an export: reading and temperature as they were written, value in the SI unit
beside it, ids of this file, times with their UTC offset where it is known."""

HEADING: Final = re.compile(
    r"\s*(?P<name>[^\[\]()]*?)\s*(?:[\[(]\s*(?P<unit>[^\[\]]*?)\s*[\])])?\s*"
)
EXAMPLES: Final = '"time, cylinder, kind, reading" or "time, cylinder, gross weight [lb]"'


class KindColumn(NamedTuple):
    """A column that holds the readings of one kind, all in one unit."""

    at: int
    heading: str
    of: Kind
    unit: str


class Columns(NamedTuple):
    """Where everything stands in a row.

    at : index by heading, as :data:`EXPORTED` spells it
    zone : that the header names for the times, None if it names none
    temperature_unit : of a column of bare temperatures, None if there is none
    of_kinds : columns that hold one kind of reading each
    """

    at: dict[str, int]
    zone: str | None
    temperature_unit: str | None
    of_kinds: tuple[KindColumn, ...]


class _Heading(NamedTuple):
    """Name and unit in one cell of the header, and the cell as it stands."""

    name: str
    unit: str | None
    cell: str


def read_columns(cells: list[str], file: str, line: int) -> Columns:
    """The columns that a header names.

    Raises InputError for an unknown, doubled or missing column, and for a missing or wrong unit.
    """
    at: dict[str, int] = {}
    of_kinds: list[KindColumn] = []
    headings = [_split(cell) for cell in cells]
    for index, heading in enumerate(headings):
        name = _plain_column(heading)
        if name is None:
            of_kinds.append(_kind_column(index, heading, file, line))
        elif name in at:
            found = f"a second column {shown(name)}"
            raise InputError(found, "one of each", file=file, line=line)
        else:
            at[name] = index
    _require_enough(at, of_kinds, file, line)
    time = headings[at["time"]]
    bare = headings[at["temperature [K]"]] if "temperature [K]" in at else None
    return Columns(at, time.unit, _temperature_unit(bare, file, line), tuple(of_kinds))


def _split(cell: str) -> _Heading:
    """Name and unit of a cell of the header."""
    found = HEADING.fullmatch(cell)
    if found is None:
        return _Heading(cell.strip(), None, cell.strip())
    unit = found["unit"]
    unit = unit.translate(STANDARD_SPELLING) if unit else None
    return _Heading(found["name"].replace("_", " "), unit, cell.strip())


def _plain_column(heading: _Heading) -> str | None:
    """The column of an export that a heading names; None if it is none of them."""
    if plain(heading.name) == "temperature":
        return "temperature" if heading.unit is None else "temperature [K]"
    known = {plain(name.partition(" [")[0]): name for name in EXPORTED}
    return known.get(plain(heading.name))


def _kind_column(at: int, heading: _Heading, file: str, line: int) -> KindColumn:
    """A column that holds the readings of one kind."""
    known = {plain(word): of for of in kinds().values() for word in (of.name, *of.aliases)}
    of = known.get(plain(heading.name))
    if of is None or of.dimension is None:
        raise _unknown(at, heading, file, line)
    if heading.unit not in dimensions()[of.dimension].spellings:
        found = f"the unknown unit {shown(heading.unit)}" if heading.unit else "no unit"
        allowed = f"write it as {of.name} [{units_of(of.dimension)[0]}]"
        allowed += f" (units: {', '.join(units_of(of.dimension))})"
        key = f"column {shown(heading.cell)}"
        raise InputError(found, allowed, file=file, line=line, key=key)
    return KindColumn(at, heading.cell, of, heading.unit)


def _unknown(at: int, heading: _Heading, file: str, line: int) -> InputError:
    """The error for a column that is none of ours, with the nearest that is."""
    measured = [of.name for of in kinds().values() if of.dimension]
    close = nearest(heading.name, [*EXPORTED, *measured])
    hint = f"did you mean {close}? " if close else ""
    allowed = f"{hint}known columns: {', '.join((*EXPORTED, *measured))}; take others out"
    found = f"the unknown column {shown(heading.cell)}"
    return InputError(found, allowed, file=file, line=line, key=f"column {at + 1}")


def _require_enough(at: dict[str, int], of_kinds: list[KindColumn], file: str, line: int) -> None:
    """Raise InputError unless a row says when, and what was read."""
    if "time" not in at:
        raise InputError("no column time", f"a header such as {EXAMPLES}", file=file, line=line)
    says_what = "kind" in at and ("reading" in at or "value" in at)
    if not says_what and not of_kinds:
        found = "no column that holds readings"
        raise InputError(found, f"a header such as {EXAMPLES}", file=file, line=line)


def _temperature_unit(heading: _Heading | None, file: str, line: int) -> str | None:
    """The unit of a column of bare temperatures."""
    if heading is None or heading.unit in dimensions()["temperature"].spellings:
        return heading.unit if heading else None
    units = ", ".join(units_of("temperature"))
    found = f"the unknown unit {shown(heading.unit or '')}"
    key = f"column {shown(heading.cell)}"
    raise InputError(
        found, f"write temperature [degC] (units: {units})", file=file, line=line, key=key
    )
