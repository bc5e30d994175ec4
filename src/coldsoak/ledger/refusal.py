"""Why a journal was refused, in the words of the person who must mend it."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from coldsoak.errors import InputError

FULL = "nothing of it was written, and what was in the journal is safe: make room, then repeat"
READ_ONLY = "a reading can only be kept where the folder and the file may be written"
DAMAGED = (
    "it is left as it is: put it aside and start anew from a copy or an export "
    "(coldsoak journal TRIP --import FILE)"
)
LONGEST = 120
"""Most characters of SQLite's own words."""

BUSY = "wait until the other program is done, then repeat"


class JournalError(InputError):
    """The journal cannot be used, or cannot take what was to be written."""


@contextmanager
def spoken(path: Path) -> Iterator[None]:
    """Turn every error of SQLite or of the file system in the block into one JournalError."""
    try:
        yield
    except sqlite3.Error as error:
        raise JournalError(*_of_sqlite(error), file=str(path)) from error
    except UnicodeDecodeError as error:
        raise JournalError("it is damaged (text that is none)", DAMAGED, file=str(path)) from error
    except OSError as error:
        found = f"it cannot be read or written: {error.strerror or error}"
        raise JournalError(found, READ_ONLY, file=str(path)) from error


def result_code(error: sqlite3.Error) -> int:
    """SQLite's primary result code of an error, 0 if it came from elsewhere.

    Extended codes carry the primary one in their low byte (SQLite documentation, "Result and
    Error Codes").
    """
    return int(getattr(error, "sqlite_errorcode", 0)) & 0xFF


def _of_sqlite(error: sqlite3.Error) -> tuple[str, str]:
    """What was found and what can be done, for an error of SQLite."""
    match result_code(error):
        case sqlite3.SQLITE_FULL:
            return "the disk is full", FULL
        case sqlite3.SQLITE_IOERR:
            return f"the disk is full or failing ({error})", FULL
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_CANTOPEN | sqlite3.SQLITE_PERM:
            return "it cannot be written there", READ_ONLY
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return "another program has been writing to it for too long", BUSY
        case _:
            return f"it is damaged ({' '.join(str(error).split())[:LONGEST]})", DAMAGED
