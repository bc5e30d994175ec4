"""``coldsoak lines``: one result on the screen or as JSON, one message when the input is wrong."""

import json
from pathlib import Path

import pytest

from coldsoak.faces.command import run

TRIP = """\
[trip]
name = "Invented camp"
start = 2026-01-16T18:00:00
length = "3 h"
weather = { temperature = "-20 degC" }
[[cylinder]]
size = "100 lb"
contents = "80 lb"
[[appliance]]
name = "grill"
kind = "grill"
input = "30000 Btu/h"
use = [{ from = "19:00", to = "19:10" }]
[[line]]
name = "hose"
to = "grill"
kind = "hose"
size = "1/4 in"
length = "18 m"
"""


@pytest.fixture
def trip(tmp_path: Path) -> Path:
    (tmp_path / "trip.toml").write_text(TRIP, encoding="utf-8")
    return tmp_path


def test_the_screen_says_who_starves_why_and_what_mends_it(
    trip: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["lines", str(trip), "--units", "us"]) == 0
    out = capsys.readouterr().out
    for word in ("STARVED", "grill", "inH2O", "Darcy", "code", "line-too-narrow", "hose wider"):
        assert word in out
    assert "soap" in out
    assert all(len(line) <= 80 for line in out.splitlines())


def test_json_is_one_object_in_its_own_units(
    trip: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answers = []
    for units in ("us", "si"):
        assert run(["lines", str(trip), "--json", "--units", units]) == 0
        answers.append(json.loads(capsys.readouterr().out))
    assert answers[0] == answers[1]
    assert answers[0]["schema"] == "coldsoak.lines/1"
    assert answers[0]["starved"] == ["grill"]


def test_a_line_to_nowhere_is_one_message(trip: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = trip / "trip.toml"
    path.write_text(TRIP.replace('to = "grill"', 'to = "gril"'), encoding="utf-8")
    assert run(["lines", str(trip)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "did you mean grill?" in captured.err
    assert captured.err.count("\n") == 1


def test_a_trip_with_nothing_burning_says_so(
    trip: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = trip / "trip.toml"
    path.write_text(TRIP.split("[[appliance]]")[0], encoding="utf-8")
    assert run(["lines", str(trip)]) == 0
    assert "Nothing burns" in capsys.readouterr().out
