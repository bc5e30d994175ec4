"""The rows of a CSV file: an export of a journal, or readings that a person wrote down.

A row that says when it was entered is of an export: it is taken as it stands. Any other row is
held against the trip as if it were typed.
"""

import csv
import io
import math
import re
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any, Final, NamedTuple, TypeVar
from zoneinfo import ZoneInfo

from coldsoak.errors import InputError
from coldsoak.ledger.columns import Columns, read_columns
from coldsoak.ledger.kinds import Kind, kind, read_temperature, read_value, read_words
from coldsoak.ledger.moment import instant, settled
from coldsoak.ledger.observe import observe
from coldsoak.ledger.reading import Observation, Withdrawal
from coldsoak.ledger.subject import Names
from coldsoak.rig.trip import Trip
from coldsoak.rig.units import NUMBER, shown
from coldsoak.weather.timestamps import find_zone, read_stamp

LARGEST: Final = 20_000_000
"""Most bytes of a file; a row has about 200."""

WHOLE: Final = re.compile(r"[1-9]\d{0,14}")

ALIKE: Final = 1e-9
"""How far a value in SI may be from the text beside it, relative: numbers are written with all
their digits, so this only allows for another program's rounding of the last ones."""

Found = TypeVar("Found")


class Row(NamedTuple):
    """One reading of a file.

    line : on which its row starts
    seen : what was observed
    id, corrects : numbers that the file gives to its readings
    entered : None for a row that a person wrote
    withdrawn : None while it counts
    """

    line: int
    seen: Observation
    id: int | None = None
    entered: datetime | None = None
    corrects: int | None = None
    withdrawn: Withdrawal | None = None


class _Cells(NamedTuple):
    """One row of cells, its line, and the columns that they are in."""

    cells: list[str]
    file: str
    line: int
    columns: Columns

    def get(self, name: str) -> str:
        """The cell of a column as it stands; "" if the file has no such column."""
        return self.cells[self.columns.at[name]] if name in self.columns.at else ""

    def error(self, found: str, allowed: str, key: str | None = None) -> InputError:
        """An error about one cell of this row."""
        return InputError(found, allowed, file=self.file, line=self.line, key=key)


def read_text(path: Path) -> str:
    """The text of a file. Raises InputError if it cannot be read, is too large or not UTF-8."""
    try:
        if path.is_file() and path.stat().st_size > LARGEST:
            found = f"found {path.stat().st_size} bytes"
            raise InputError(found, f"at most {LARGEST} are read", file=str(path))
        raw = path.read_bytes()
    except OSError as error:
        found = f"the file cannot be read: {error.strerror or error}"
        raise InputError(found, "name a CSV file", file=str(path)) from error
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise InputError(
            "found a byte that is not UTF-8", "save it as UTF-8", file=str(path), line=line
        ) from error


def read_rows(text: str, file: str, trip: Trip, names: Names) -> list[Row]:
    """All readings in the text of a CSV file.

    `file` is what messages call it; `names` are those that rows of a person may use. Raises
    InputError with line and column for the first thing that cannot be read or believed.
    """
    rows = list(_rows(text, file))
    if not rows:
        raise InputError("an empty file", "a header and a row for each reading", file=file)
    head_line, head = rows[0]
    _require_commas(head, file, head_line)
    columns = read_columns(head, file, head_line)
    zone = find_zone(columns.zone, file, head_line) if columns.zone else None
    found: list[Row] = []
    for line, cells in rows[1:]:
        if len(cells) != len(head):
            raise _wrong_width(cells, head, file, line)
        found.extend(_readings(_Cells(cells, file, line, columns), zone, trip, names))
    return found


def _rows(text: str, file: str) -> Iterator[tuple[int, list[str]]]:
    """Every row of cells with the line on which it starts; empty rows and comments left out."""
    reader = csv.reader(io.StringIO(text, newline=""), skipinitialspace=True, strict=True)
    line = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#"):
                yield line, cells
            line = reader.line_num + 1
    except csv.Error as error:
        allowed = "cells apart by commas, quotation marks in pairs"
        raise InputError(f"a broken row ({error})", allowed, file=file, line=line) from error


def _require_commas(head: list[str], file: str, line: int) -> None:
    """Raise InputError if the header is set apart by semicolons or tabs."""
    for mark, name in ((";", "semicolons"), ("\t", "tabs")):
        if any(mark in cell for cell in head):
            allowed = "cells apart by commas, and numbers with a decimal point"
            raise InputError(f"{name} between the cells", allowed, file=file, line=line)


def _wrong_width(cells: list[str], head: list[str], file: str, line: int) -> InputError:
    """The error for a row that has not as many cells as the header."""
    allowed = f"{len(head)} as in the header"
    if len(cells) > len(head):
        allowed += "; numbers take a decimal point, and words with a comma quotation marks"
    found = f"{len(cells)} cell{'s' * (len(cells) > 1)}"
    return InputError(found, allowed, file=file, line=line)


def _readings(
    row: _Cells, zone: ZoneInfo | timezone | None, trip: Trip, names: Names
) -> Iterator[Row]:
    """The readings in one row: one, or one for each filled cell of a column of a kind."""
    stamp = read_stamp(row.get("time"), zone, row.file, row.line).time
    if row.get("entered [UTC]").strip():
        yield _of_export(row, settled(stamp, stamp))
        return
    for name in ("corrects", "withdrawn [UTC]", "because"):
        if row.get(name).strip():
            found = f"found {shown(row.get(name).strip())}"
            raise row.error(found, "only an export can say that: leave it empty", name)
    time = settled(stamp, trip.start)
    if row.get("kind").strip() or not row.columns.of_kinds:
        of = _attempt(row, "kind", kind, row.get("kind"))
        yield _of_person(row, of, _reading(row), "reading", time, trip, names)
    for column in row.columns.of_kinds:
        if cell := row.cells[column.at].strip():
            text = f"{cell} {column.unit}"
            yield _of_person(row, column.of, text, column.heading, time, trip, names)


def _attempt(row: _Cells, key: str, read: Callable[..., Found], *given: Any) -> Found:
    """What a reader makes of a cell; an error of it names the line and the column."""
    try:
        return read(*given)
    except InputError as error:
        raise row.error(error.found, error.allowed, key) from None


def _reading(row: _Cells) -> str:
    """What a person read, with its unit: in one cell, or as value and unit in two."""
    reading = row.get("reading").strip()
    return reading or f"{row.get('value').strip()} {row.get('unit').strip()}".strip()


def _of_person(
    row: _Cells, of: Kind, reading: str, column: str, time: datetime, trip: Trip, names: Names
) -> Row:
    """A reading that a person wrote down, as if it were typed."""
    about = _about(row, of)
    temperature, note = _temperature(row), row.get("note")
    try:
        seen = observe(trip, names, of.name, about, reading, time, temperature, note)
    except InputError as error:
        about_column = "appliance" if of.about == "appliance" else "cylinder"
        key = {"reading": column, "about": about_column}.get(error.key or "", error.key)
        raise row.error(error.found, error.allowed, key) from None
    return Row(row.line, seen)


def _about(row: _Cells, of: Kind) -> str:
    """What names the subject of a reading; a temperature of the rig may stand in any row."""
    cylinder, appliance = row.get("cylinder").strip(), row.get("appliance").strip()
    match of.about:
        case "rig":
            return ""
        case "appliance":
            return appliance or cylinder
        case _:
            return cylinder or appliance


def _temperature(row: _Cells) -> str:
    """The temperature that goes with a reading, with its unit."""
    bare = row.get("temperature [K]").strip()
    with_unit = f"{bare} {row.columns.temperature_unit}" if bare else ""
    return row.get("temperature").strip() or with_unit


def _of_export(row: _Cells, time: datetime) -> Row:
    """A reading of an export, as it stands; its words must say the same as its numbers."""
    of = _attempt(row, "kind", kind, row.get("kind"))
    value = _attempt(row, "reading", read_value, of, row.get("reading"))
    warmth = _attempt(row, "temperature", read_temperature, row.get("temperature"))
    if row.get("unit").strip() not in ("", of.si):
        found = f"found {shown(row.get('unit').strip())}"
        raise row.error(found, f"{of.name} has the unit {of.si or 'of words: none'}", "unit")
    seen = Observation(
        time=time,
        kind=of.name,
        cylinder=_name(row, "cylinder"),
        appliance=_name(row, "appliance"),
        value=_agreed(row, "value", value.si),
        written=value.written,
        temperature=_agreed(row, "temperature [K]", warmth.si),
        temperature_written=warmth.written,
        note=_attempt(row, "note", read_words, row.get("note")),
    )
    entered, withdrawn = _moment(row, "entered [UTC]"), _withdrawal(row)
    return Row(row.line, seen, _whole(row, "id"), entered, _whole(row, "corrects"), withdrawn)


def _name(row: _Cells, column: str) -> str | None:
    """A name as it stands, also one that the trip file does not have any more."""
    name = row.get(column)
    _attempt(row, column, read_words, name)
    return name or None


def _agreed(row: _Cells, column: str, said: float | None) -> float | None:
    """The number of a cell, which must be what the text beside it says, or stay empty."""
    cell = row.get(column).strip()
    if not cell:
        return said
    number = float(cell) if NUMBER.fullmatch(cell) else math.nan
    if said is not None and math.isclose(number, said, rel_tol=ALIKE, abs_tol=ALIKE):
        return number
    shows = "no number" if said is None else f"{said!r}"
    allowed = f"the text beside it says {shows}: change both, or leave this empty"
    raise row.error(f"found {shown(cell)}", allowed, column)


def _whole(row: _Cells, column: str) -> int | None:
    """The number of a reading, or None."""
    cell = row.get(column).strip()
    if not cell:
        return None
    if not WHOLE.fullmatch(cell):
        raise row.error(f"found {shown(cell)}", "the number of a reading of this file", column)
    return int(cell)


def _moment(row: _Cells, column: str) -> datetime:
    """A moment in UTC."""
    stamp = _attempt(row, column, read_stamp, row.get(column), UTC, row.file, row.line)
    return instant(stamp.time, timedelta(0))


def _withdrawal(row: _Cells) -> Withdrawal | None:
    """Since when and why a reading does not count any more; None while it does."""
    because = _attempt(row, "because", read_words, row.get("because"))
    if row.get("withdrawn [UTC]").strip():
        return Withdrawal(because, _moment(row, "withdrawn [UTC]"))
    if because:
        allowed = "only a row with a time under withdrawn [UTC] says why"
        raise row.error(f"found {shown(because)}", allowed, "because")
    return None
