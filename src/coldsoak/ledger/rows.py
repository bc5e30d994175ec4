"""Readings as rows of the journal's tables, inside an open connection."""

import math
import sqlite3
from datetime import datetime, timedelta, timezone
from types import NoneType
from typing import Any, Final

from coldsoak.errors import InputError
from coldsoak.ledger.reading import Observation, Reading, Withdrawal

EVERYTHING: Final = """
SELECT reading.id, time, utc_offset, cylinder, appliance, kind, value, written, temperature,
    temperature_written, note, reading.entered, corrects,
    (SELECT later.id FROM reading AS later WHERE later.corrects = reading.id),
    because, withdrawal.entered
FROM reading LEFT JOIN withdrawal ON withdrawal.reading = reading.id
"""

INSERT: Final = """
INSERT INTO reading (time, utc_offset, cylinder, appliance, kind, value, written, temperature,
    temperature_written, note, entered, corrects)
VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
"""

COLUMNS: Final[dict[str, Any]] = {
    "id": int,
    "time": str,
    "utc_offset": (int, NoneType),
    "cylinder": (str, NoneType),
    "appliance": (str, NoneType),
    "kind": str,
    "value": (float, NoneType),
    "written": str,
    "temperature": (float, NoneType),
    "temperature_written": str,
    "note": str,
    "entered": str,
    "corrects": (int, NoneType),
    "corrected_by": (int, NoneType),
    "because": (str, NoneType),
    "since": (str, NoneType),
}
"""The columns of :data:`EVERYTHING` and what they hold in a journal that is not damaged."""


def require_current(connection: sqlite3.Connection, id: int) -> Reading:
    """The reading of an id, if it counts.

    Raises InputError if there is none, or if it was corrected or withdrawn.
    """
    found = reading_of(connection, id)
    if found.withdrawn is not None:
        raise InputError(
            f"reading {id} was withdrawn: {found.withdrawn.because}", "enter a new reading"
        )
    if found.corrected_by is not None:
        raise InputError(
            f"reading {id} was corrected by reading {found.corrected_by}", "name that one"
        )
    return found


def reading_of(connection: sqlite3.Connection, id: int) -> Reading:
    """The reading of an id. Raises InputError if there is none."""
    row = connection.execute(f"{EVERYTHING} WHERE reading.id = ?", (id,)).fetchone()
    if row is not None:
        return _reading(row)
    (count,) = connection.execute("SELECT count(*) FROM reading").fetchone()
    raise InputError(
        f"there is no reading {id}",
        f"there are readings 1 to {count}" if count else "the journal has no reading yet",
    )


def all_readings(connection: sqlite3.Connection) -> tuple[Reading, ...]:
    """Every reading of an open journal, in the order of entering."""
    rows = connection.execute(f"{EVERYTHING} ORDER BY reading.id")
    return tuple(_reading(row) for row in rows)


def insert(
    connection: sqlite3.Connection, seen: Observation, entered: str, corrects: int | None = None
) -> int:
    """Write one observation into an open journal and give its id."""
    offset = seen.time.utcoffset()
    values = (
        seen.time.replace(tzinfo=None).isoformat(),
        None if offset is None else round(offset.total_seconds()),
        *(seen.cylinder, seen.appliance, seen.kind, seen.value, seen.written),
        *(seen.temperature, seen.temperature_written, seen.note, entered, corrects),
    )
    id = connection.execute(INSERT, values).lastrowid
    assert id is not None
    return id


def insert_withdrawal(connection: sqlite3.Connection, id: int, because: str, entered: str) -> None:
    """Write into an open journal that a reading does not count any more."""
    connection.execute("INSERT INTO withdrawal VALUES (?, ?, ?)", (id, because, entered))


def observation_of(reading: Reading) -> Observation:
    """What a person saw, without what the journal added."""
    return Observation(**{name: getattr(reading, name) for name in Observation.__annotations__})


def _reading(row: tuple[Any, ...]) -> Reading:
    """The reading of one row of :data:`EVERYTHING`; raises sqlite3.DatabaseError for nonsense."""
    cells = dict(zip(COLUMNS, row, strict=True))
    try:
        _require_sound(cells)
        return Reading(
            time=_time(cells.pop("time"), cells.pop("utc_offset")),
            entered=_believed(cells.pop("entered")),
            withdrawn=_withdrawal(cells.pop("because"), cells.pop("since")),
            **cells,
        )
    except (TypeError, ValueError, OverflowError) as error:
        raise sqlite3.DatabaseError(f"reading {row[0]}: {error}") from error


def _require_sound(cells: dict[str, Any]) -> None:
    """Raise TypeError or ValueError for a cell that this program never wrote."""
    for name, cell in cells.items():
        if not isinstance(cell, COLUMNS[name]):
            raise TypeError(f"{name} is {type(cell).__name__}")
        if isinstance(cell, float) and not math.isfinite(cell):
            raise ValueError(f"{name} is not finite")


def _withdrawal(because: str | None, since: str | None) -> Withdrawal | None:
    return None if because is None or since is None else Withdrawal(because, _believed(since))


def _time(text: str, offset: int | None) -> datetime:
    """The time of a reading from its two columns."""
    time = _believed(text)
    return time if offset is None else time.replace(tzinfo=timezone(timedelta(seconds=offset)))


def _believed(text: str) -> datetime:
    """A date and time in the years that readings can be of."""
    time = datetime.fromisoformat(text)
    if not 1900 <= time.year <= 2200:
        raise ValueError(f"the year {time.year}")
    return time
