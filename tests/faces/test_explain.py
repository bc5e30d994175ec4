"""Every assumption is printed with its source, in the units that were asked for."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.faces.command import run
from coldsoak.faces.explain import gathered
from coldsoak.faces.shown import restated
from coldsoak.rig.trip import Assumption


@pytest.fixture
def trip(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """A new trip folder."""
    assert run(["start", str(tmp_path), "--yes"]) == 0
    capsys.readouterr()
    return str(tmp_path)


def test_the_printed_list_holds_every_source(trip: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["explain", trip, "--json"]) == 0
    explained = json.loads(capsys.readouterr().out)
    assert run(["explain", trip]) == 0
    printed = "".join(capsys.readouterr().out.split())
    assert explained["assumptions"]
    for entry in explained["assumptions"]:
        assert "".join(entry["source"].split())[:15] in printed


def test_every_assumption_has_a_value_and_a_source(
    trip: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["explain", trip, "--json"]) == 0
    for entry in json.loads(capsys.readouterr().out)["assumptions"]:
        assert entry["key"]
        assert entry["value"]
        assert entry["source"]


def test_units_reach_the_values(trip: str, capsys: pytest.CaptureFixture[str]) -> None:
    values = {}
    for units in ("us", "si"):
        assert run(["explain", trip, "--json", "--units", units]) == 0
        entries = json.loads(capsys.readouterr().out)["assumptions"]
        values[units] = {entry["key"]: entry["value"] for entry in entries}
    assert values["us"]["cylinder.A.diameter"].endswith(" in")
    assert values["si"]["cylinder.A.diameter"].endswith(" mm")


def test_what_is_assumed_of_several_alike_is_said_once() -> None:
    alike = [Assumption(f"cylinder.{name}.tare", "17 lb", "a scale") for name in ("A", "B 1.2")]
    other = Assumption("cylinder.C.tare", "18 lb", "a scale")
    entries = gathered([*alike, other, Assumption("supply.outlet", "11 inH2O", "plate")], "us")
    assert [entry.heading for entry in entries] == ["cylinder A, B 1.2", "cylinder C", "supply"]


@pytest.mark.parametrize(
    ("text", "units", "words"),
    [
        ("20 lb", "si", "9.072 kg"),
        ("9.072 kg", "si", "9.072 kg"),
        ("34.5 kPa", "us", "5.004 psi"),
        ("that of the air", "us", "that of the air"),
        ("22:00 .. 07:00", "us", "22:00 .. 07:00"),
        ("50 %", "us", "50 %"),
    ],
)
def test_a_text_is_restated_only_when_it_is_a_quantity(text: str, units: str, words: str) -> None:
    assert restated(text, units) == words


@given(st.text(max_size=40), st.sampled_from(["us", "si"]))
def test_no_text_breaks_the_restating(text: str, units: str) -> None:
    assert isinstance(restated(text, units), str)
