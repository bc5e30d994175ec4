"""A journal of an earlier version loses nothing on its way to this one."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from coldsoak.errors import InputError
from coldsoak.ledger import store
from coldsoak.ledger.journal import correct, enter, history, owner, readings
from coldsoak.ledger.migrations import VERSION, migrate, script, statements
from coldsoak.ledger.refusal import JournalError

from .example import seen

HERE = Path(__file__).parent
NAME = "Invented hut, two nights"
EARLIER = range(1, VERSION)


def frozen(version: int, path: Path) -> Path:
    """The journal that an earlier version left behind."""
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript((HERE / f"version{version}.sql").read_text("utf-8"))
    return path


@pytest.fixture(params=EARLIER)
def path(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A journal of each of the earlier versions."""
    return frozen(request.param, tmp_path / "trip.journal.sqlite")


def rows(path: Path, columns: str) -> list[tuple[object, ...]]:
    """Cells of the table of readings as they are in the file."""
    with closing(sqlite3.connect(path)) as connection:
        return connection.execute(f"SELECT {columns} FROM reading ORDER BY id").fetchall()


def version_in(path: Path) -> int:
    """The version that a file says it has."""
    return int.from_bytes(path.read_bytes()[60:64], "big")


def test_there_is_a_frozen_journal_of_every_earlier_version() -> None:
    assert {each.name for each in HERE.glob("version*.sql")} == {
        f"version{version}.sql" for version in EARLIER
    }


def test_what_was_entered_is_all_there(path: Path) -> None:
    columns = "id, time, utc_offset, kind, value, written, temperature, note, entered"
    before = rows(path, columns)
    assert enter(path, NAME, seen()).id == len(before) + 1
    assert rows(path, columns)[:-1] == before
    assert version_in(path) == VERSION
    assert owner(path) == NAME


def test_looking_does_not_change_the_file(path: Path) -> None:
    before, version = path.read_bytes(), version_in(path)
    assert len(history(path)) == 7
    assert path.read_bytes() == before
    assert version_in(path) == version


def test_looking_shows_what_is_there_after_the_change(path: Path) -> None:
    looked = history(path)
    enter(path, NAME, seen())
    assert history(path)[:-1] == tuple(looked)


def test_what_was_of_the_whole_rig_names_no_cylinder(tmp_path: Path) -> None:
    path = frozen(1, tmp_path / "trip.journal.sqlite")
    assert [each.cylinder for each in history(path)] == ["A", None, "A", "A", "B", "A", "A"]


def test_several_corrections_become_a_chain_of_which_the_last_counts(tmp_path: Path) -> None:
    """Version 1 held that 4 and 6 correct 3, and 7 corrects 4: the newest is 7."""
    path = frozen(1, tmp_path / "trip.journal.sqlite")
    assert {each.id: each.corrects for each in history(path) if each.corrects} == {4: 3, 6: 4, 7: 6}
    assert [each.id for each in readings(path)] == [1, 2, 7, 5]


def test_a_reading_can_be_corrected_once_only(path: Path) -> None:
    with pytest.raises(InputError, match="corrected by reading 4"):
        correct(path, NAME, 3, seen())


def test_the_text_of_a_temperature_is_made_of_its_number(tmp_path: Path) -> None:
    path = frozen(1, tmp_path / "trip.journal.sqlite")
    texts = [(each.temperature, each.temperature_written) for each in history(path)]
    assert texts[0] == (253.15, "253.15 K")
    assert texts[1] == (None, "")
    assert texts[6] == (252.65, "252.65 K")


def test_a_step_that_fails_leaves_the_earlier_version(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before, version = rows(path, "*"), version_in(path)

    def failing(connection: sqlite3.Connection) -> None:
        migrate(connection)
        raise sqlite3.OperationalError("the power went")

    with monkeypatch.context() as patched:
        patched.setattr(store, "migrate", failing)
        with pytest.raises(JournalError, match="the power went"):
            enter(path, NAME, seen())
    assert (rows(path, "*"), version_in(path)) == (before, version)
    assert enter(path, NAME, seen()).id == 8


def test_a_correction_of_a_reading_that_is_not_there_stays_a_reading(tmp_path: Path) -> None:
    path = frozen(1, tmp_path / "trip.journal.sqlite")
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE reading SET corrects = 97 + id WHERE id IN (2, 5)")
        connection.commit()
    found = {each.id: each.corrects for each in history(path)}
    assert (len(found), found[2], found[5]) == (7, None, None)


def tables(connection: sqlite3.Connection) -> set[str]:
    """Tables, indexes and triggers as they were defined, spacing and comments aside."""
    found = connection.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL").fetchall()
    return {" ".join(re.sub(r"--[^\n]*", "", sql).split()) for (sql,) in found}


@pytest.mark.parametrize("version", EARLIER)
def test_every_way_to_this_version_ends_with_the_same_tables(tmp_path: Path, version: int) -> None:
    path = frozen(version, tmp_path / "trip.journal.sqlite")
    enter(path, NAME, seen())
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as fresh:
        migrate(fresh)
        with closing(sqlite3.connect(path)) as changed:
            assert tables(changed) == tables(fresh)


def test_the_scripts_are_as_many_as_the_versions() -> None:
    for version in range(1, VERSION + 1):
        assert list(statements(script(version)))
    with pytest.raises(FileNotFoundError):
        script(VERSION + 1)
