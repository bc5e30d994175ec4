"""From a trip file to the printed plan, the JSON object and the series, in one command."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pyarrow.csv
import pyarrow.parquet
import pytest

from coldsoak.choose.answer import Plan, plan_object
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


def as_object(text: str) -> Any:
    """Strict JSON."""
    return json.loads(text, parse_constant=refuse)


def changed(trip: Path, folder: Path, old: str, new: str) -> Path:
    """The same trip with one text changed."""
    text = trip.read_text(encoding="utf-8")
    assert old in text
    path = folder / "trip.toml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


def test_the_json_is_strict_and_is_a_plan(trip: Path, capsys: Capture) -> None:
    assert run(["plan", str(trip), "--json"]) == 0
    written = as_object(capsys.readouterr().out)
    assert plan_object(Plan.model_validate(written)) == written


def test_what_was_there_is_burned_or_left(trip: Path, capsys: Capture) -> None:
    assert run(["plan", str(trip), "--json"]) == 0
    plan = as_object(capsys.readouterr().out)
    fuel = plan["fuel"]
    # three numbers, each written to 0.1 g
    assert fuel["start_kg"] == pytest.approx(fuel["burned_kg"] + fuel["left_kg"], abs=1.5e-4)
    assert sum(fuel["by_appliance_kg"].values()) == pytest.approx(fuel["burned_kg"], abs=1.5e-4)


def test_a_folder_stands_for_its_trip_file(trip: Path, capsys: Capture) -> None:
    assert run(["plan", str(trip), "--json"]) == 0
    by_file = capsys.readouterr().out
    assert run(["plan", str(trip.parent), "--json"]) == 0
    assert capsys.readouterr().out == by_file


def test_the_printed_plan_fits_one_screen_and_says_the_verdict(trip: Path, capsys: Capture) -> None:
    assert run(["plan", str(trip), "--json"]) == 0
    verdict = as_object(capsys.readouterr().out)["verdict"]
    assert run(["plan", str(trip)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[1].startswith(verdict.upper())
    assert len(lines) <= 40
    assert max(map(len, lines)) <= 80


def test_units_may_come_from_the_environment(
    trip: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLDSOAK_UNITS", "us")
    assert run(["plan", str(trip)]) == 0
    assert "Btu/h" in capsys.readouterr().out
    assert run(["plan", str(trip), "--units", "si"]) == 0
    assert "Btu/h" not in capsys.readouterr().out
    monkeypatch.setenv("COLDSOAK_UNITS", "stone")
    assert run(["plan", str(trip)]) == 2


@pytest.mark.parametrize("name", ["night.csv", "night.parquet"])
def test_the_series_covers_the_trip_on_ten_minutes(
    trip: Path, tmp_path: Path, capsys: Capture, name: str
) -> None:
    path = tmp_path / name
    assert run(["plan", str(trip), "--json", "--series", str(path)]) == 0
    plan = as_object(capsys.readouterr().out)
    read = pyarrow.csv.read_csv if path.suffix == ".csv" else pyarrow.parquet.read_table
    table = read(path)
    hours = table["hours"].to_pylist()
    assert hours[0] == 0.0
    assert hours[1] == pytest.approx(1.0 / 6.0, abs=1e-6)
    for cylinder in plan["cylinders"]:
        left = table[f"{cylinder['name']}_left_kg"].to_pylist()
        # the plan writes 0.1 g
        assert left[-1] == pytest.approx(cylinder["left_kg"], abs=1e-4)


def test_a_series_that_cannot_be_written_is_bad_input(
    trip: Path, tmp_path: Path, capsys: Capture
) -> None:
    assert run(["plan", str(trip), "--series", str(tmp_path / "no" / "night.csv")]) == 2
    assert "there is no folder" in capsys.readouterr().err


def test_an_over_filled_cylinder_is_refused_with_its_caution(
    trip: Path, tmp_path: Path, capsys: Capture
) -> None:
    path = changed(trip, tmp_path, 'contents = "18 lb"', 'contents = "24 lb"')
    assert run(["plan", str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "24 lb" in err or "24.0 lb" in err
    assert "swells" in err or "fill" in err


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('kind = "furnace"', 'kind = "furnce"'),
        ('input = "7000 Btu/h"', "input = 7000"),
        ('input = "7000 Btu/h"', 'input = "-7000 Btu/h"'),
        ("[fuel]", "[fuel"),
        ('use = "thermostat"', 'use = "thermostat"\nuse = "always"'),
    ],
)
def test_a_damaged_trip_is_one_message(
    trip: Path, tmp_path: Path, capsys: Capture, old: str, new: str
) -> None:
    path = changed(trip, tmp_path, old, new)
    for command in ("plan", "explain"):
        assert run([command, str(path)]) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert str(path) in err or path.name in err
        assert "line" in err
        assert "Traceback" not in err


def in_a_terminal_of(trip: Path, **environment: str) -> str:
    """The printed plan as a process writes it with some environment."""
    program = "from coldsoak.faces.command import main; main()"
    result = subprocess.run(
        [sys.executable, "-c", program, "plan", str(trip)],
        capture_output=True,
        timeout=300,
        env={**os.environ, **environment},
    )
    assert result.returncode == 0, result.stderr
    assert result.stderr == b""
    return result.stdout.decode(environment.get("PYTHONIOENCODING", "utf-8"))


def test_an_ascii_terminal_gets_a_strip_of_ascii(trip: Path) -> None:
    text = in_a_terminal_of(trip, PYTHONIOENCODING="ascii")
    assert "#" in text
    assert "?" not in text


def test_no_color_leaves_no_escape_for_color(trip: Path) -> None:
    text = in_a_terminal_of(trip, NO_COLOR="1", FORCE_COLOR="1", PYTHONIOENCODING="utf-8")
    assert "\x1b[38" not in text
    assert "\x1b[48" not in text
