"""The rows of a file put into a journal, all or none, and each reading once."""

import sqlite3
from collections.abc import Hashable
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from coldsoak.errors import InputError
from coldsoak.ledger import store
from coldsoak.ledger.intake import Row
from coldsoak.ledger.moment import utc_text
from coldsoak.ledger.reading import Observation
from coldsoak.ledger.rows import (
    all_readings,
    insert,
    insert_withdrawal,
    observation_of,
    reading_of,
    require_current,
)


class Known(NamedTuple):
    """A row that adds nothing: its line, and the reading of the journal that says the same."""

    line: int
    id: int


class Merged(NamedTuple):
    """What an import did: ids of new readings, rows that were known, ids newly withdrawn."""

    added: tuple[int, ...]
    known: tuple[Known, ...]
    withdrawn: tuple[int, ...]


def merge(path: Path, trip: str, rows: list[Row], file: str) -> Merged:
    """Put the readings of a file into a journal.

    A row of an export is known if the journal has a reading that says the same and was entered at
    the same moment; a row of a person is known if it says the same as any reading, in the journal
    or earlier in the file. What an export corrected or withdrew is corrected or withdrawn here.

    Raises InputError, with the line, for a correction of a reading that does not count here or
    is not in the file, and JournalError; then nothing of the file is in the journal.
    """
    added: list[int] = []
    known: list[Known] = []
    ids: dict[int, int] = {}
    in_order = sorted(rows, key=lambda row: row.id or 0)
    with store.writing(path, trip) as connection:
        seen = _all_seen(connection)
        now = store.now()
        for row in in_order:
            id = next((seen[key] for key in _keys(row) if key in seen), None)
            if id is None:
                id = _add(connection, row, ids, now, file)
                added.append(id)
                _remember(seen, row.seen, row.entered, id)
            else:
                known.append(Known(row.line, id))
            if row.id is not None and ids.setdefault(row.id, id) != id:
                raise _error(row, file, "id", f"found the number {row.id} twice", "each its own")
        withdrawn = [_withdraw(connection, row, ids, file) for row in in_order]
    return Merged(tuple(added), tuple(known), tuple(id for id in withdrawn if id is not None))


def _all_seen(connection: sqlite3.Connection) -> dict[Hashable, int]:
    """What the journal has, by all the keys under which a row may be known."""
    seen: dict[Hashable, int] = {}
    for each in all_readings(connection):
        _remember(seen, observation_of(each), each.entered, each.id)
    return seen


def _remember(
    seen: dict[Hashable, int], what: Observation, entered: datetime | None, id: int
) -> None:
    """Note under which keys a reading is known."""
    seen.setdefault(_said(what), id)
    if entered is not None:
        seen.setdefault((what, utc_text(entered)), id)


def _keys(row: Row) -> list[Hashable]:
    """The keys of which one makes a row known."""
    return [_said(row.seen)] if row.entered is None else [(row.seen, utc_text(row.entered))]


def _said(what: Observation) -> Hashable:
    """What a reading says: when, about what, and the value or the words."""
    says = what.written if what.value is None else what.value
    return (what.time, what.cylinder, what.appliance, what.kind, says)


def _add(connection: sqlite3.Connection, row: Row, ids: dict[int, int], now: str, file: str) -> int:
    """Enter the reading of a row and give its id in the journal."""
    entered = now if row.entered is None else utc_text(row.entered)
    if row.corrects is None:
        return insert(connection, row.seen, entered)
    if row.corrects not in ids:
        found = f"corrects reading {row.corrects}, which is not in the file before it"
        raise _error(row, file, "corrects", found, "export the journal again, and import all of it")
    corrects = ids[row.corrects]
    _require_current(connection, corrects, row, file)
    return insert(connection, row.seen, entered, corrects)


def _withdraw(
    connection: sqlite3.Connection, row: Row, ids: dict[int, int], file: str
) -> int | None:
    """Withdraw the reading of a row that the file has withdrawn; its id if that was news."""
    if row.withdrawn is None:
        return None
    if row.id is None:
        raise _error(row, file, "id", "a withdrawn reading without a number", "give its number")
    id = ids[row.id]
    if reading_of(connection, id).withdrawn is not None:
        return None
    _require_current(connection, id, row, file)
    insert_withdrawal(connection, id, row.withdrawn.because, utc_text(row.withdrawn.entered))
    return id


def _require_current(connection: sqlite3.Connection, id: int, row: Row, file: str) -> None:
    """Raise InputError, with the line, if the journal went another way than the file."""
    try:
        require_current(connection, id)
    except InputError as error:
        allowed = "the journal and the file changed it differently: take this row out"
        raise _error(row, file, None, f"in the journal, {error.found}", allowed) from None


def _error(row: Row, file: str, key: str | None, found: str, allowed: str) -> InputError:
    """An error about a row of the file."""
    return InputError(found, allowed, file=file, line=row.line, key=key)
