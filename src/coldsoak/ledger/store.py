"""The file of a journal: opened, checked, brought to this version, or refused untouched.

SQLite with a write-ahead log. ``synchronous=FULL`` makes a commit wait until the disk has it, so
what was acknowledged outlives a killed program and a power cut (SQLite documentation, "PRAGMA
synchronous"). A connection lives for one command; the last one to close folds the log back into
the file, so between commands a journal is one file that can be copied.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from coldsoak.ledger.migrations import APPLICATION, VERSION, migrate, version_of
from coldsoak.ledger.moment import utc_text
from coldsoak.ledger.refusal import JournalError, result_code, spoken

PATIENCE: Final = 10.0
"""How long a command waits for another one that is writing [s]."""

MAGIC: Final = b"SQLite format 3\x00"
"""First bytes of every database file (SQLite documentation, "Database File Format", 1.3)."""

HEADER: Final = 100
"""Length of the header of a database file [bytes], same source."""

NO_JOURNAL = "it is left as it is: move it away, a journal of its own is begun beside the trip file"


def journal_path(trip_file: Path) -> Path:
    """Where the journal of a trip file is: beside it.

    >>> journal_path(Path("ridge/trip.toml")).name
    'trip.journal.sqlite'
    """
    return trip_file.with_suffix(".journal.sqlite")


@contextmanager
def reading(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection to read from; the file is not changed, and one that is not there is empty.

    A journal of an earlier version is read through a copy in memory.

    Raises JournalError.
    """
    with spoken(path):
        if not path.exists():
            with closing(_memory()) as empty:
                migrate(empty)
                yield empty
            return
        with closing(_readable(path)) as connection:
            if version_of(connection) == VERSION:
                yield connection
                return
            with closing(_memory()) as copy:
                connection.backup(copy)
                migrate(copy)
                yield copy


@contextmanager
def writing(path: Path, trip: str) -> Iterator[sqlite3.Connection]:
    """A connection inside one transaction: when the block ends it is on the disk, or nothing is.

    A journal that is not there is begun for the trip of that name; one of an earlier version is
    brought to this one first. Readers go on reading, another writer waits.

    Raises JournalError; whatever is raised inside the block undoes what the block wrote.
    """
    with spoken(path):
        _refuse_others(path)
        with closing(_opened(path, "rwc")) as connection:
            _check(connection, path)
            _settle(connection, trip)
            with _transaction(connection):
                yield connection


def now() -> str:
    """The moment as the journal writes it: UTC, ISO 8601."""
    return utc_text(datetime.now(UTC))


def _settle(connection: sqlite3.Connection, trip: str) -> None:
    """Make the tables of this version and switch to the write-ahead log, where that is due."""
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA fullfsync = ON")  # Apple's disks acknowledge too early without
    if version_of(connection) < VERSION:
        with _transaction(connection):
            migrate(connection)
            if connection.execute("SELECT count(*) FROM trip").fetchone() == (0,):
                connection.execute("INSERT INTO trip VALUES (?, ?)", (trip, now()))
    try:
        connection.execute("PRAGMA journal_mode = WAL")
    except sqlite3.OperationalError as error:  # in use: whoever comes next switches it
        if result_code(error) != sqlite3.SQLITE_BUSY:
            raise
    connection.execute("PRAGMA foreign_keys = ON")


@contextmanager
def _transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """All of a block or nothing of it; the lock is taken at once, so nothing read goes stale."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):
            if connection.in_transaction:
                connection.execute("ROLLBACK")
        raise


def _memory() -> sqlite3.Connection:
    return sqlite3.connect(":memory:", isolation_level=None)


def _opened(path: Path, mode: str) -> sqlite3.Connection:
    """A connection in one of SQLite's modes (ro, rw, rwc, or ro&immutable=1)."""
    address = f"{path.absolute().as_uri()}?mode={mode}"
    return sqlite3.connect(address, uri=True, timeout=PATIENCE, isolation_level=None)


def _readable(path: Path) -> sqlite3.Connection:
    """A checked connection for reading, also where nothing may be written."""
    _refuse_others(path)
    connection = _opened(path, "rw")
    try:
        _check(connection, path)
    except sqlite3.OperationalError as error:
        connection.close()
        read_only = result_code(error) in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY)
        if not read_only or _beside(path, "-wal").exists():
            raise
        connection = _opened(path, "ro&immutable=1")  # nobody can be writing there
        _check(connection, path)
    except BaseException:
        connection.close()
        raise
    connection.execute("PRAGMA query_only = ON")
    return connection


def _beside(path: Path, ending: str) -> Path:
    """A log beside a journal (-wal, -journal), there while it is open or after it was killed."""
    return path.with_name(path.name + ending)


def _refuse_others(path: Path) -> None:
    """Refuse what is no journal or is of a newer version, before SQLite opens it for writing.

    What a log beside the file changes in its header is asked through a connection that only reads.
    """
    if path.is_dir():
        raise JournalError("found a folder where the journal should be", NO_JOURNAL, file=str(path))
    if not path.exists() or path.stat().st_size == 0:
        return
    with path.open("rb") as file:
        header = file.read(HEADER)
    if _beside(path, "-journal").exists():
        return  # killed while it was begun: SQLite undoes that first, then it is judged
    if header[: len(MAGIC)] != MAGIC or len(header) < HEADER:
        raise JournalError("found a file that is no journal", NO_JOURNAL, file=str(path))
    version, application = (int.from_bytes(header[at : at + 4], "big") for at in (60, 68))
    _judge(path, application, version)
    if _beside(path, "-wal").exists():
        with closing(_opened(path, "ro")) as connection:
            _judge(path, *_marks(connection))


def _marks(connection: sqlite3.Connection) -> tuple[int, int]:
    """Which program a database is of, and which version."""
    application = int(connection.execute("PRAGMA application_id").fetchone()[0])
    return application, version_of(connection)


def _judge(path: Path, application: int, version: int) -> None:
    """Refuse the database of another program and the journal of a newer coldsoak."""
    if (application, version) != (0, 0) and application != APPLICATION:
        raise JournalError("found a file that is no journal", NO_JOURNAL, file=str(path))
    if version > VERSION:
        found = f"found version {version}, this coldsoak knows versions up to {VERSION}"
        allowed = "it is left as it is: use the coldsoak that wrote it, or a newer one"
        raise JournalError(found, allowed, file=str(path))


def _check(connection: sqlite3.Connection, path: Path) -> None:
    """Refuse a damaged journal, and tables that are none of ours."""
    marks = _marks(connection)
    _judge(path, *marks)
    if marks == (0, 0) and connection.execute("SELECT 1 FROM sqlite_master").fetchone():
        raise JournalError("found a file that is no journal", NO_JOURNAL, file=str(path))
    report = connection.execute("PRAGMA quick_check(1)").fetchone()[0]
    if report != "ok":
        raise sqlite3.DatabaseError(str(report).partition("\n")[0])
