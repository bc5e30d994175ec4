"""The journal is shown, corrected, withdrawn from, taken out and taken in."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from coldsoak.faces.command import run

Capture = pytest.CaptureFixture[str]

TRIP = """\
[trip]
name = "Invented hut, two nights"
start = 2026-01-16T16:00:00
length = "40 h"
weather = { temperature = "-20 degC" }

[[cylinder]]
name = "A"
size = "20 lb"
tare = "17 lb"
contents = "18 lb"
"""


@pytest.fixture
def trip(tmp_path: Path, capsys: Capture) -> str:
    """An invented trip with two readings."""
    folder = tmp_path / "hut"
    folder.mkdir()
    (folder / "trip.toml").write_text(TRIP)
    run(["weigh", str(folder), "A", "35 lb", "--at", "2026-01-16T16:30", "--note", "dry"])
    run(["weigh", str(folder), "A", "31 lb", "--at", "2026-01-17T04:30-07:00"])
    capsys.readouterr()
    return str(folder)


def as_object(capsys: Capture, *words: str) -> dict[str, Any]:
    """The answer of a command as JSON."""
    assert run([*words, "--json"]) == 0
    answer: dict[str, Any] = json.loads(capsys.readouterr().out)
    return answer


def printed(capsys: Capture, *words: str) -> str:
    """What a command prints."""
    assert run(list(words)) == 0
    return capsys.readouterr().out


def refused(capsys: Capture, *words: str) -> str:
    """The one message of a command that refuses."""
    assert run(list(words)) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.strip().splitlines()) == 1
    return err


def states(capsys: Capture, trip: str) -> list[tuple[int, str, bool]]:
    """Every reading: its number, what was written, whether it counts."""
    found = as_object(capsys, "journal", trip)["readings"]
    return [(each["id"], each["written"], each["current"]) for each in found]


def test_it_is_shown_as_a_table_within_80_columns(trip: str, capsys: Capture) -> None:
    text = printed(capsys, "journal", trip, "--units", "us")
    assert "Invented hut, two nights" in text
    assert "Fri 16 Jan 16:30" in text
    assert "Sat 17 Jan 04:30 -07:00" in text
    assert "35 lb" in text
    assert "dry" in text
    assert "UTC offset not known" in text
    assert max(len(line) for line in text.splitlines()) <= 80


def test_units_are_those_that_were_asked_for(trip: str, capsys: Capture) -> None:
    assert "15.88 kg" in printed(capsys, "journal", trip, "--units", "si")


def test_without_readings_it_says_how_to_enter_one(tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "trip.toml").write_text(TRIP)
    assert "coldsoak weigh TRIP" in printed(capsys, "journal", str(tmp_path))
    assert as_object(capsys, "journal", str(tmp_path))["readings"] == []
    assert [each.name for each in tmp_path.iterdir()] == ["trip.toml"]


def test_a_correction_is_answered_like_a_weight_and_keeps_the_old_one(
    trip: str, capsys: Capture
) -> None:
    answer = as_object(capsys, "journal", trip, "--correct", "1", "34 lb")
    assert answer["schema"] == "coldsoak.weigh/1"
    assert answer["reading"]["corrects"] == 1
    assert answer["reading"]["time"] == "2026-01-16T16:30:00"
    assert answer["reading"]["note"] == "dry"
    assert answer["since"]["reading"] is None  # not held against the reading that it corrects
    assert states(capsys, trip) == [(1, "35 lb", False), (3, "34 lb", True), (2, "31 lb", True)]
    text = printed(capsys, "journal", trip)
    assert "corrected by 3" in text
    assert "corrects 1" in text


def test_a_correction_may_change_the_time_and_the_note(trip: str, capsys: Capture) -> None:
    words = ["--correct", "1", "34 lb", "--at", "2026-01-16T17:00", "--note", "wet"]
    reading = as_object(capsys, "journal", trip, *words)["reading"]
    assert (reading["time"], reading["note"]) == ("2026-01-16T17:00:00", "wet")


def test_a_correction_in_words_says_what_it_takes_the_place_of(trip: str, capsys: Capture) -> None:
    text = printed(capsys, "journal", trip, "--correct", "1", "34 lb", "--units", "us")
    assert "it takes the place of reading 1 (35 lb), which is kept" in text


def test_a_correction_below_zero_is_no_option(trip: str, capsys: Capture) -> None:
    run(["weigh", trip, "rig", "-10 degC", "--kind", "outside"])
    capsys.readouterr()
    answer = as_object(capsys, "journal", trip, "--correct", "3", "-12 degC")
    assert answer["reading"]["written"] == "-12 degC"


def test_a_withdrawn_reading_stays_in_sight(trip: str, capsys: Capture) -> None:
    text = printed(capsys, "journal", trip, "--withdraw", "1", "--because", "the wrong cylinder")
    assert "reading 1 does not count any more and is kept: the wrong cylinder" in text
    assert states(capsys, trip) == [(1, "35 lb", False), (2, "31 lb", True)]
    assert "withdrawn:" in printed(capsys, "journal", trip)


def test_withdrawing_is_answered_as_json(trip: str, capsys: Capture) -> None:
    answer = as_object(capsys, "journal", trip, "--withdraw", "2", "--because", "in doubt")
    assert answer["reading"]["withdrawn"]["because"] == "in doubt"


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--correct", "9", "31 lb"], "there is no reading 9; there are readings 1 to 2"),
        (["--correct", "1", "9 lb"], "9 kg would fit"),
        (["--correct", "one", "31 lb"], "'one' is not a valid integer"),
        (["--withdraw", "1"], "--withdraw without a reason"),
        (["--withdraw", "9", "--because", "x"], "there is no reading 9"),
        (["--withdraw", "1", "--correct", "1", "31 lb"], "do one after the other"),
        (["--import", "no.csv"], "the file cannot be read"),
        (["--export", "no/such/folder.csv"], "the export cannot be written"),
        (["--export", "-", "--json"], "--json"),
        (["--because", "x"], "--because belongs to --withdraw"),
        (["--note", "x"], "--note belongs to --correct"),
        (["--at", "07:30"], "--at belongs to --correct"),
    ],
)
def test_what_cannot_be_done_is_one_message_and_changes_nothing(
    trip: str, capsys: Capture, words: list[str], message: str
) -> None:
    before = (Path(trip) / "trip.journal.sqlite").read_bytes()
    assert message in refused(capsys, "journal", trip, *words)
    assert (Path(trip) / "trip.journal.sqlite").read_bytes() == before


def test_it_goes_out_and_comes_back(trip: str, tmp_path: Path, capsys: Capture) -> None:
    run(["journal", trip, "--correct", "1", "34 lb"])
    run(["journal", trip, "--withdraw", "2", "--because", "in doubt"])
    file, other = str(tmp_path / "out.csv"), tmp_path / "other"
    capsys.readouterr()
    assert "wrote 3 readings to" in printed(capsys, "journal", trip, "--export", file)
    other.mkdir()
    (other / "trip.toml").write_text(TRIP)
    assert "3 new readings (1 to 3)" in printed(capsys, "journal", str(other), "--import", file)
    assert states(capsys, str(other)) == states(capsys, trip)
    text = printed(capsys, "journal", str(other), "--export", "-")
    assert text == Path(file).read_text()


def test_what_is_known_is_told(trip: str, tmp_path: Path, capsys: Capture) -> None:
    file = tmp_path / "night.csv"
    file.write_text("time, cylinder, gross weight [lb]\n2026-01-16T16:30, A, 35\n")
    text = printed(capsys, "journal", trip, "--import", str(file))
    assert "0 new readings" in text
    assert "line 2 is reading 1 and was not entered again" in text
    answer = as_object(capsys, "journal", trip, "--import", str(file))
    assert (answer["added"], answer["known"]) == ([], [{"line": 2, "id": 1}])


def test_an_export_as_json_says_what_was_written(
    trip: str, tmp_path: Path, capsys: Capture
) -> None:
    answer = as_object(capsys, "journal", trip, "--export", str(tmp_path / "out.csv"))
    assert answer["readings"] == 2


def test_a_trip_that_got_a_new_name_keeps_its_journal(trip: str, capsys: Capture) -> None:
    (Path(trip) / "trip.toml").write_text(TRIP.replace("two nights", "three nights"))
    assert "was begun for the trip" in printed(capsys, "journal", trip)
    assert run(["journal", trip, "--export", "-"]) == 0
    assert "was begun for the trip" in capsys.readouterr().err
    assert "from now on" in printed(capsys, "journal", trip, "--adopt")
    assert as_object(capsys, "journal", trip)["notes"] == []


def test_a_journal_that_cannot_be_used_is_one_message(trip: str, capsys: Capture) -> None:
    path = Path(trip) / "trip.journal.sqlite"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA user_version = 99")
    before = path.read_bytes()
    assert "found version 99" in refused(capsys, "journal", trip)
    assert "found version 99" in refused(capsys, "weigh", trip, "A", "31 lb")
    assert path.read_bytes() == before
