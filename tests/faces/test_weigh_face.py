"""A reading that is typed is kept, and answered with what it means."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from coldsoak.cautions import OVERFILL
from coldsoak.faces.command import run
from coldsoak.ledger.journal import history

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

[[appliance]]
name = "furnace"
kind = "burner"
input = "6000 Btu/h"
use = "always"
"""

POUND = 0.45359237


@pytest.fixture
def trip(tmp_path: Path) -> str:
    """An invented trip."""
    folder = tmp_path / "hut"
    folder.mkdir()
    (folder / "trip.toml").write_text(TRIP)
    return str(folder)


def readings(trip: str) -> list[Any]:
    """What is in the journal."""
    return list(history(Path(trip) / "trip.journal.sqlite"))


def as_object(capsys: Capture, *words: str) -> dict[str, Any]:
    """The answer of a command as JSON."""
    assert run([*words, "--json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    answer: dict[str, Any] = json.loads(out)
    return answer


def printed(capsys: Capture, *words: str) -> str:
    """What a command prints."""
    assert run(list(words)) == 0
    return " ".join(capsys.readouterr().out.split())


def refused(capsys: Capture, *words: str) -> str:
    """The one message of a command that refuses."""
    assert run(list(words)) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("coldsoak: ")
    assert len(err.strip().splitlines()) == 1
    return err


def test_a_weight_is_answered_in_words(trip: str, capsys: Capture) -> None:
    run(["weigh", trip, "A", "35 lb", "--at", "2026-01-16T16:30"])
    capsys.readouterr()
    text = printed(capsys, "weigh", trip, "A", "31 lb", "--at", "2026-01-17T04:30", "--units", "us")
    assert "A: gross weight 31 lb, Sat 17 Jan 04:30 (reading 2)" in text
    assert "14.0 lb of fuel: 31.0 lb less the tare of 17.0 lb" in text
    assert "70 % of the 20.0 lb that may be in it" in text
    assert "4.0 lb less than at Fri 16 Jan 16:30, 12 h before: 8.0 lb a day" in text
    assert "UTC offset is not known" in text


def test_the_same_answer_in_si(trip: str, capsys: Capture) -> None:
    text = printed(capsys, "weigh", trip, "A", "31 lb", "--at", "2026-01-17T04:00", "--units", "si")
    assert "6.35 kg of fuel: 14.06 kg less the tare of 7.71 kg" in text
    assert "1.81 kg less than at Fri 16 Jan 16:00, 12 h before, as the trip file says" in text


def test_the_same_answer_as_json(trip: str, capsys: Capture) -> None:
    answer = as_object(
        capsys, "weigh", trip, "a", "31 lb", "--at", "2026-01-17T04:00-07:00", "--note", "dry"
    )
    assert answer["schema"] == "coldsoak.weigh/1"
    assert answer["contents_kg"] == pytest.approx(14.0 * POUND)
    assert answer["limit_kg"] == pytest.approx(20.0 * POUND)
    assert answer["overfilled"] is False
    assert answer["since"] == {
        "reading": None,
        "time": "2026-01-16T16:00:00",
        "hours": 12.0,
        "contents_kg": pytest.approx(18.0 * POUND),
        "refilled_kg": 0,
        "used_kg": pytest.approx(4.0 * POUND),
        "used_kg_per_day": pytest.approx(8.0 * POUND),
    }
    reading = answer["reading"]
    assert (reading["written"], reading["note"], reading["unit"]) == ("31 lb", "dry", "kg")
    assert (reading["time"], reading["utc_offset_known"]) == ("2026-01-17T04:00:00-07:00", True)
    assert answer["cautions"] == answer["notes"] == []


def test_without_a_time_it_is_now_with_the_offset_of_this_computer(
    trip: str, capsys: Capture
) -> None:
    answer = as_object(capsys, "weigh", trip, "A", "31 lb")
    assert answer["reading"]["utc_offset_known"] is True


def test_too_much_fuel_is_kept_and_answered_with_the_caution(trip: str, capsys: Capture) -> None:
    answer = as_object(capsys, "weigh", trip, "A", "38 lb", "--at", "2026-01-16T16:30")
    assert answer["overfilled"] is True
    assert answer["cautions"] == [{"code": "over-filled", "text": OVERFILL}]
    assert [each.written for each in readings(trip)] == ["38 lb"]
    text = printed(capsys, "weigh", trip, "A", "38 lb", "--units", "us")
    assert "OVER-FILLED: at most 20.0 lb may be in it" in text
    assert " ".join(OVERFILL.split()) in text.replace(" - ", " ")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["A", "9 lb"], "9 kg would fit"),
        (["A", "31"], "without a unit"),
        (["A"], "one value with its unit"),
        (["Ab", "31 lb"], 'unknown cylinder "Ab" for gross weight; did you mean A?'),
        (["A", "31 lb", "--kind", "gros"], 'did you mean "gross weight"?'),
        (["A", "31 lb", "--at", "noon"], 'found "noon"'),
        (["A", "31 lb", "--temperature", "cold"], "temperature: "),
        (["A", "31 lb", "--note", "\x1b[31m"], "leave control characters out"),
        (["A", "\udcff"], "leave control characters out"),
        (["furnce", "--kind", "lock-out"], "did you mean furnace?"),
        (["A", "3 degC", "--kind", "outside"], "write rig"),
    ],
)
def test_what_cannot_be_is_refused_and_no_journal_is_begun(
    trip: str, capsys: Capture, words: list[str], message: str
) -> None:
    assert message in refused(capsys, "weigh", trip, *words)
    assert [each.name for each in Path(trip).iterdir()] == ["trip.toml"]


def test_an_unknown_trip_is_answered_with_the_nearest(trip: str, capsys: Capture) -> None:
    message = refused(capsys, "weigh", f"{Path(trip).parent}/hat", "A", "31 lb")
    assert f"did you mean {trip}?" in message
    message = refused(capsys, "weigh", f"{trip}/tripp.toml", "A", "31 lb")
    assert f"did you mean {trip}/trip.toml?" in message


def test_a_value_below_zero_is_no_option(trip: str, capsys: Capture) -> None:
    answer = as_object(
        capsys,
        *("weigh", trip, "rig", "-12 degC", "--kind", "outside", "--at", "2026-01-17T04:00"),
        *("--temperature", "-3 degF"),
    )
    assert answer["reading"]["value"] == pytest.approx(261.15)
    assert answer["reading"]["written"] == "-12 degC"
    assert answer["reading"]["temperature_written"] == "-3 degF"
    assert answer["contents_kg"] is None


def test_the_quotation_marks_may_be_left_out(trip: str, capsys: Capture) -> None:
    words = ["weigh", trip, "A", "31.2", "lb", "--at", "2026-01-17T04:00"]
    assert as_object(capsys, *words)["reading"]["written"] == "31.2 lb"
    words = ["weigh", trip, "rig", "-12", "degC", "--kind", "outside"]
    assert as_object(capsys, *words)["reading"]["written"] == "-12 degC"


def test_a_lock_out_and_a_change_are_answered_with_their_cautions(
    trip: str, capsys: Capture
) -> None:
    answer = as_object(capsys, "weigh", trip, "furnace", "at four", "--kind", "lockout")
    assert [each["code"] for each in answer["cautions"]] == ["lock-out"]
    answer = as_object(capsys, "weigh", trip, "A", "--kind", "changed")
    assert [each["code"] for each in answer["cautions"]] == ["soap-test"]


@pytest.mark.parametrize(
    ("words", "note"),
    [
        (["36 lb", "--at", "2026-01-17T04:00"], "There is more fuel than before"),
        (["16.8 lb", "--at", "2026-01-17T04:00"], "a little less than its tare"),
        (["34 lb", "--at", "2026-01-16T18:04"], "the same as reading 1"),
        (["31 lb", "--at", "2026-01-19T04:00"], "after the end of the trip"),
        (["31 lb", "--at", "2025-01-17T04:00"], "more than two months before"),
        (["31 lb", "--at", "2190-01-17T04:00"], "still to come"),
        (["31 lb", "--at", "2026-01-17T04:00"], "UTC offset is not known"),
    ],
)
def test_what_is_odd_is_kept_and_said(
    trip: str, capsys: Capture, words: list[str], note: str
) -> None:
    run(["weigh", trip, "A", "34 lb", "--at", "2026-01-16T18:00"])
    capsys.readouterr()
    answer = as_object(capsys, "weigh", trip, "A", *words)
    assert note in " ".join(answer["notes"])
    assert len(readings(trip)) == 2


def test_the_journal_of_a_trip_of_another_name_is_told(trip: str, capsys: Capture) -> None:
    run(["weigh", trip, "A", "34 lb"])
    (Path(trip) / "trip.toml").write_text(TRIP.replace("two nights", "three nights"))
    capsys.readouterr()
    answer = as_object(capsys, "weigh", trip, "A", "33 lb")
    assert "was begun for the trip 'Invented hut, two nights'" in answer["notes"][0]


def test_the_units_of_the_environment_are_those_of_the_answer(
    trip: str, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLDSOAK_UNITS", "us")
    assert "14.0 lb of fuel" in printed(capsys, "weigh", trip, "A", "31 lb")


def test_what_is_printed_was_written_before(trip: str) -> None:
    """The answer is the acknowledgement: it must not come before the reading is on the disk."""
    program = (
        "import sys, coldsoak.ledger.journal as journal\n"
        "def failing(*words): raise SystemExit('nothing was written')\n"
        "journal.enter = failing\n"
        "from coldsoak.faces.command import main; main()"
    )
    result = subprocess.run(
        [sys.executable, "-c", program, "weigh", trip, "A", "31 lb"],
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert result.stdout == ""
    assert readings(trip) == []
