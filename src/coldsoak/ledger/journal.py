"""The journal of a trip: readings entered, corrected and withdrawn, and none ever lost.

What other programs need is :func:`readings` (those that count, in the order of time),
:func:`newest` and :func:`history` (all, in the order of entering). A reading is never changed:
a correction is a new reading that names the one it takes the place of, and a reading that is
withdrawn stays where it is, with the reason.
"""

from collections.abc import Iterable
from pathlib import Path

from coldsoak.ledger import store
from coldsoak.ledger.moment import instant, place_offset
from coldsoak.ledger.reading import Observation, Reading
from coldsoak.ledger.rows import (
    all_readings,
    insert,
    insert_withdrawal,
    reading_of,
    require_current,
)


def readings(path: Path) -> tuple[Reading, ...]:
    """The readings that count, in the order of their times; none if there is no journal yet.

    Raises JournalError.
    """
    return in_order(each for each in history(path) if each.current)


def newest(
    path: Path, cylinder: str | None, kind: str, appliance: str | None = None
) -> Reading | None:
    """The last of the readings of one kind that count, None if there is none.

    `cylinder` and `appliance` are None where the kind is not about one. Raises JournalError.
    """
    wanted = (cylinder, appliance, kind)
    found = [x for x in readings(path) if (x.cylinder, x.appliance, x.kind) == wanted]
    return found[-1] if found else None


def history(path: Path) -> tuple[Reading, ...]:
    """Every reading, also corrected and withdrawn ones, in the order of entering.

    Raises JournalError.
    """
    with store.reading(path) as connection:
        return all_readings(connection)


def owner(path: Path) -> str | None:
    """The name of the trip that the journal is of, None if there is no journal yet.

    Raises JournalError.
    """
    with store.reading(path) as connection:
        row = connection.execute("SELECT name FROM trip ORDER BY rowid DESC LIMIT 1").fetchone()
    return None if row is None else str(row[0])


def enter(path: Path, trip: str, seen: Observation) -> Reading:
    """Keep one observation; when this returns, it is on the disk.

    `trip` is the name of the trip, for a journal that is begun with it. Raises JournalError.
    """
    with store.writing(path, trip) as connection:
        id = insert(connection, seen, store.now())
        return reading_of(connection, id)


def correct(path: Path, trip: str, id: int, seen: Observation) -> Reading:
    """Keep an observation that takes the place of reading `id`.

    Raises InputError if there is no such reading or it does not count any more, and JournalError.
    """
    with store.writing(path, trip) as connection:
        require_current(connection, id)
        corrected = insert(connection, seen, store.now(), corrects=id)
        return reading_of(connection, corrected)


def withdraw(path: Path, trip: str, id: int, because: str) -> Reading:
    """Let reading `id` count no more, and say why.

    Raises InputError if there is no such reading or it does not count any more, and JournalError.
    """
    with store.writing(path, trip) as connection:
        require_current(connection, id)
        insert_withdrawal(connection, id, because, store.now())
        return reading_of(connection, id)


def adopt(path: Path, trip: str) -> None:
    """Make the journal that of a trip of another name. Raises JournalError."""
    with store.writing(path, trip) as connection:
        connection.execute("INSERT INTO trip VALUES (?, ?)", (trip, store.now()))


def in_order(seen: Iterable[Reading]) -> tuple[Reading, ...]:
    """Readings in the order of their times, then of entering."""
    by_id = sorted(seen, key=lambda each: each.id)
    offset = place_offset(by_id)
    return tuple(sorted(by_id, key=lambda each: instant(each.time, offset)))
