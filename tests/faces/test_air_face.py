"""From a trip file to the air inside, printed or as JSON, in one command."""

import json
from pathlib import Path
from typing import Any

import pytest

from coldsoak.choose.air_answer import AirAnswer, air_object
from coldsoak.faces import air as face
from coldsoak.faces.command import run

Capture = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def trip(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new trip, as `start` writes it."""
    folder = tmp_path_factory.mktemp("hut")
    assert run(["start", str(folder), "--yes"]) == 0
    return folder / "trip.toml"


def refuse(constant: str) -> None:
    """Fail on what JSON does not have."""
    raise AssertionError(constant)


def answered(trip: Path, capsys: Capture) -> Any:
    """The answer of a trip as strict JSON."""
    assert run(["air", str(trip), "--json"]) == 0
    return json.loads(capsys.readouterr().out, parse_constant=refuse)


def printed(trip: Path, capsys: Capture, *more: str) -> str:
    """The printed answer with its lines joined, as it is read."""
    assert run(["air", str(trip), *more]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_the_json_is_strict_and_is_an_answer(trip: Path, capsys: Capture) -> None:
    written = answered(trip, capsys)
    assert written["schema"] == "coldsoak.air/1"
    assert air_object(AirAnswer.model_validate(written)) == written


def test_the_printed_answer_holds_its_numbers(trip: Path, capsys: Capture) -> None:
    written = answered(trip, capsys)
    text = printed(trip, capsys)
    assert f"{written['highest_co2_ppm']:.0f} ppm" in text
    assert f"always {written['openings']['always_cm2']:.0f} cm2" in text
    assert f"{written['water_per_night']['total_L']:.1f} L a night" in text
    for row in written["heating"]:
        assert f"{row['highest_co2_ppm']:.0f} ppm" in text


def test_it_says_that_it_tells_nothing_of_carbon_monoxide(trip: Path, capsys: Capture) -> None:
    text = printed(trip, capsys)
    assert "Nothing here says anything about carbon monoxide" in text
    assert "Required vents are never closed" in text
    assert "Everyone out, count heads, call from outside" in text
    for standard in ("UL 2034", "EN 50291"):
        assert standard in text


def test_every_rule_names_its_standard(trip: Path, capsys: Capture) -> None:
    text = printed(trip, capsys)
    assert "EN 721" in text
    assert "ANSI Z223.1 / NFPA 54" in text


def test_no_line_is_wider_than_the_paper(trip: Path, capsys: Capture) -> None:
    assert run(["air", str(trip), "--units", "us"]) == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) <= 80


def test_units_are_those_that_are_asked_for(trip: Path, capsys: Capture) -> None:
    us, si = (printed(trip, capsys, "--units", units) for units in ("us", "si"))
    assert "in2" in us
    assert "cm2" not in us
    assert "cm2" in si
    assert "in2" not in si


def test_a_trip_without_a_shelter_is_bad_input(tmp_path: Path, capsys: Capture) -> None:
    file = tmp_path / "trip.toml"
    file.write_text(
        '[trip]\nweather = { temperature = "-20 degC" }\n[[cylinder]]\nsize = "20 lb"\n'
        'contents = "15 lb"\n',
        encoding="utf-8",
    )
    assert run(["air", str(file)]) == 2
    error = capsys.readouterr().err
    assert "no [shelter]" in error
    assert str(file) in error
    assert error.count("\n") == 1


def test_a_looser_limit_is_one_message_with_its_line(
    trip: Path, tmp_path: Path, capsys: Capture
) -> None:
    file = tmp_path / "trip.toml"
    file.write_text(trip.read_text("utf-8") + '\n[air]\nco2 = "9000 ppm"\n', encoding="utf-8")
    assert run(["air", str(file)]) == 2
    error = capsys.readouterr().err
    assert "air.co2" in error
    assert "at most 5000 ppm" in error
    assert error.count("\n") == 1


@pytest.mark.parametrize(
    ("hours", "words"), [(None, "never"), (0.302, "18 min"), (1.99, "119 min"), (4.21, "4.2 h")]
)
def test_a_short_time_is_told_in_minutes(hours: float | None, words: str) -> None:
    assert face.while_of(hours) == words


def test_no_opening_is_told_as_none_that_is_enough() -> None:
    assert face.opening(None, "si") == "no opening is enough"
