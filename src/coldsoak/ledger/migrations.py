"""Versions of the journal's tables: one SQL script for each step, in ``versions/``.

A journal carries the number of its version in ``PRAGMA user_version``. The scripts that it has not
seen are run in order, all in one transaction, so a journal is of one version or of the next and
never in between.
"""

import sqlite3
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Final

VERSION: Final = 2
"""The version that this program reads and writes."""

APPLICATION: Final = 0x636F6C64
"""``PRAGMA application_id`` of a journal: "cold" in ASCII."""


@cache
def script(number: int) -> str:
    """The SQL that makes version `number` out of the one before."""
    return (files("coldsoak.ledger") / f"versions/{number:04}.sql").read_text("utf-8")


def statements(text: str) -> Iterator[str]:
    """The statements of a script, one by one; triggers hold semicolons of their own.

    >>> list(statements("SELECT 1; SELECT\\n 2;\\n"))
    ['SELECT 1; SELECT\\n 2;']
    """
    pending = ""
    for line in text.splitlines():
        pending = f"{pending}\n{line}" if pending else line
        if sqlite3.complete_statement(pending):
            yield pending
            pending = ""


def version_of(connection: sqlite3.Connection) -> int:
    """The version of the open journal; 0 for one that has no tables yet."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def migrate(connection: sqlite3.Connection) -> None:
    """Bring an open journal to this program's version; belongs into a transaction.

    Foreign keys must be off while tables are rebuilt; whether they hold is asked at the end.
    """
    for number in range(version_of(connection) + 1, VERSION + 1):
        for statement in statements(script(number)):
            connection.execute(statement)
    if connection.execute("PRAGMA foreign_key_check").fetchone():
        raise sqlite3.DatabaseError("a correction of a reading that is not there")
    connection.execute(f"PRAGMA user_version = {VERSION}")
    connection.execute(f"PRAGMA application_id = {APPLICATION}")
