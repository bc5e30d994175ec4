"""The file is one journal of this version, or it is refused and left as it is."""

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldsoak.ledger import store
from coldsoak.ledger.journal import correct, enter, history, withdraw
from coldsoak.ledger.migrations import APPLICATION, VERSION
from coldsoak.ledger.refusal import JournalError
from coldsoak.ledger.rows import insert_withdrawal

from .example import enter_many, files_in, folder_in_memory, seen

NAME = "Invented hut, two nights"
HELPERS = Path(__file__).parent


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A journal of three readings."""
    path = tmp_path / "trip.journal.sqlite"
    for hours in range(3):
        enter(path, NAME, seen(hours))
    return path


def without_index(files: dict[str, bytes]) -> dict[str, bytes]:
    """The files that hold readings."""
    return {name: raw for name, raw in files.items() if not name.endswith("-shm")}


def refusal(path: Path) -> str:
    """What both reading and writing are refused with; no byte and no file changes.

    Except the index of a log (-shm), which holds the locks of who is looking and nothing else.
    """
    before = without_index(files_in(path.parent))
    messages = []
    for attempt in (lambda: history(path), lambda: enter(path, NAME, seen())):
        with pytest.raises(JournalError) as caught:
            attempt()
        messages.append(str(caught.value))
    assert without_index(files_in(path.parent)) == before
    assert messages[0] == messages[1]
    assert messages[0].startswith(str(path))
    return messages[0]


def test_between_commands_a_journal_is_one_file(path: Path) -> None:
    assert [each.name for each in path.parent.iterdir()] == [path.name]


def test_it_has_a_write_ahead_log_and_a_commit_waits_for_the_disk(path: Path) -> None:
    with store.writing(path, NAME) as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert connection.execute("PRAGMA synchronous").fetchone() == (2,)  # FULL
        assert connection.execute("PRAGMA foreign_keys").fetchone() == (1,)
        assert path.with_name(f"{path.name}-wal").exists()


def test_it_says_whose_file_it_is_and_of_which_version(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (APPLICATION,)
        assert connection.execute("PRAGMA user_version").fetchone() == (VERSION,)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE reading SET value = 1.0",
        "DELETE FROM reading",
        "UPDATE withdrawal SET because = ''",
        "DELETE FROM withdrawal",
        "INSERT INTO reading SELECT 9, time, utc_offset, cylinder, appliance, kind, 'much', "
        "written, temperature, temperature_written, note, entered, NULL FROM reading LIMIT 1",
    ],
)
def test_the_tables_themselves_refuse_change_loss_and_nonsense(path: Path, statement: str) -> None:
    withdraw(path, NAME, 1, "in doubt")
    before = history(path)
    with closing(sqlite3.connect(path)) as connection, pytest.raises(sqlite3.IntegrityError):
        connection.execute(statement)
    assert history(path) == before


def test_a_newer_version_is_refused(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(f"PRAGMA user_version = {VERSION + 1}")
    message = refusal(path)
    assert f"found version {VERSION + 1}" in message
    assert f"up to {VERSION}" in message


def test_a_newer_version_that_is_still_in_the_log_is_refused(path: Path) -> None:
    program = (
        "import os, sqlite3, sys; c = sqlite3.connect(sys.argv[1], isolation_level=None);"
        f"c.execute('PRAGMA user_version = {VERSION + 1}'); os._exit(0)"
    )
    subprocess.run([sys.executable, "-c", program, str(path)], check=True, timeout=60)
    assert int.from_bytes(path.read_bytes()[60:64], "big") == VERSION
    assert f"found version {VERSION + 1}" in refusal(path)


@pytest.mark.parametrize(
    "content", [b"no database at all", b"SQLite format 3\x00", b"\x00" * 4096, b"x"]
)
def test_a_file_that_is_no_database_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "trip.journal.sqlite"
    path.write_bytes(content)
    assert "no journal" in refusal(path)


@pytest.mark.parametrize("marks", ["", "PRAGMA application_id = 7", "PRAGMA user_version = 2"])
def test_the_database_of_another_program_is_refused(tmp_path: Path, marks: str) -> None:
    path = tmp_path / "trip.journal.sqlite"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE other (x)")
        connection.execute(marks)
    assert "no journal" in refusal(path)


def test_a_folder_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "trip.journal.sqlite"
    path.mkdir()
    assert "found a folder" in refusal(path)


def test_an_empty_file_is_a_journal_that_was_not_begun_yet(tmp_path: Path) -> None:
    path = tmp_path / "trip.journal.sqlite"
    path.touch()
    assert history(path) == ()
    assert path.read_bytes() == b""
    assert enter(path, NAME, seen()).id == 1


def test_a_file_that_was_cut_off_is_refused(path: Path) -> None:
    for _ in range(40):
        enter(path, NAME, seen())
    path.write_bytes(path.read_bytes()[:-5000])
    assert "damaged" in refusal(path)


def test_damage_where_no_reading_stands_is_found_too(path: Path) -> None:
    """The index could be wrong without a wrong reading: nothing may be written on top of that."""
    with closing(sqlite3.connect(path)) as connection:
        sql = "SELECT rootpage FROM sqlite_master WHERE name = 'reading_of'"
        (page,) = connection.execute(sql).fetchone()
        (size,) = connection.execute("PRAGMA page_size").fetchone()
    raw = bytearray(path.read_bytes())
    raw[page * size - 40 : page * size] = bytes(40)
    path.write_bytes(raw)
    assert "damaged" in refusal(path)


def damaged_journal() -> bytes:
    """The bytes of a journal with a correction and a withdrawal, to be damaged."""
    with folder_in_memory() as folder:
        path = folder / "trip.journal.sqlite"
        for hours in range(12):
            enter(path, NAME, seen(hours, temperature=250.0, note="as it was"))
        correct(path, NAME, 3, seen())
        withdraw(path, NAME, 4, "in doubt")
        return path.read_bytes()


GOOD = damaged_journal()


@settings(max_examples=200)
@given(
    st.lists(
        st.tuples(st.integers(0, len(GOOD) - 1), st.binary(min_size=1, max_size=8)),
        min_size=1,
        max_size=12,
    ),
    st.one_of(st.none(), st.integers(0, len(GOOD))),
)
def test_whatever_is_damaged_it_is_read_or_refused(
    damages: list[tuple[int, bytes]], length: int | None
) -> None:
    raw = bytearray(GOOD)
    for at, new in damages:
        raw[at : at + len(new)] = new
    with folder_in_memory() as folder:
        path = folder / "trip.journal.sqlite"
        path.write_bytes(raw[:length])
        try:
            history(path)
        except JournalError:
            assert path.read_bytes() == raw[:length]
            return
        try:
            enter(path, NAME, seen())
        except JournalError as error:
            assert "\n" not in str(error)  # noqa: PT017


def test_a_writer_that_never_ends_is_waited_for_and_then_named(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(store, "PATIENCE", 0.2)
    with store.writing(path, NAME), pytest.raises(JournalError, match="another program"):
        enter(path, NAME, seen())
    assert len(history(path)) == 3


def test_a_reader_does_not_wait_for_a_writer(path: Path) -> None:
    with store.writing(path, NAME) as connection:
        connection.execute("INSERT INTO trip VALUES ('x', 'y')")
        assert len(history(path)) == 3


def test_what_fails_half_way_leaves_nothing_behind(path: Path) -> None:
    def failing() -> None:
        with store.writing(path, NAME) as connection:
            insert_withdrawal(connection, 1, "in doubt", store.now())
            raise ZeroDivisionError

    before = history(path)
    with pytest.raises(ZeroDivisionError):
        failing()
    assert history(path) == before


def test_a_database_that_is_full_takes_nothing_and_loses_nothing(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pages = path.stat().st_size // 4096
    opened = store._opened

    def small(where: Path, mode: str) -> sqlite3.Connection:
        connection = opened(where, mode)
        connection.execute(f"PRAGMA max_page_count = {pages + 1}")
        return connection

    with monkeypatch.context() as patched:
        patched.setattr(store, "_opened", small)
        kept = list(history(path))
        with pytest.raises(JournalError, match="the disk is full; nothing of it was written"):
            enter_many(path, kept)
        assert len(kept) > 3
        assert list(history(path)) == kept
    assert enter(path, NAME, seen()).id == len(kept) + 1


def helper(name: str, *words: str, prefix: tuple[str, ...] = ()) -> str:
    """Run one of the programs beside this file and give what it prints."""
    command = [*prefix, sys.executable, str(HELPERS / name), *words]
    result = subprocess.run(command, capture_output=True, text=True, timeout=120)
    assert result.returncode == 0, result.stderr
    return result.stdout


UNSHARE = ("unshare", "--user", "--map-root-user", "--mount")


def can_mount() -> bool:
    """Whether a small disk can be mounted here."""
    try:
        return subprocess.run([*UNSHARE, "true"], capture_output=True, timeout=20).returncode == 0
    except OSError:
        return False


@pytest.mark.skipif(not can_mount(), reason="no small disk can be mounted here")
def test_a_full_disk_takes_nothing_and_loses_nothing(tmp_path: Path) -> None:
    """A tmpfs of 300 kB, filled to the last byte, then relieved."""
    printed = helper("fulldisk.py", str(tmp_path), prefix=UNSHARE)
    assert printed.split() == ["kept", "refused", "safe", "export-refused", "relieved"]


@pytest.mark.skipif(sys.platform == "win32", reason="this system has no limit of file size")
def test_a_file_that_may_not_grow_takes_nothing_and_loses_nothing(tmp_path: Path) -> None:
    assert helper("filelimit.py", str(tmp_path)).split() == ["kept", "refused", "safe"]


@pytest.mark.skipif(not hasattr(os, "setuid"), reason="this system has no such user")
def test_where_nothing_may_be_written_it_is_read_but_not_written() -> None:
    assert helper("readonly.py").split() == ["read", "refused", "untouched", "not-begun"]
