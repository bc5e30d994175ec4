"""A new trip is a file that plans, and no trip is ever written over."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from coldsoak.faces.command import run
from coldsoak.rig.read import read_trip


def test_a_new_trip_reads_without_an_edit(tmp_path: Path) -> None:
    assert run(["start", str(tmp_path / "a" / "b"), "--yes"]) == 0
    assert read_trip(tmp_path / "a" / "b" / "trip.toml").cylinders


def test_a_trip_is_never_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "trip.toml").write_text("mine")
    assert run(["start", str(tmp_path), "--yes"]) == 2
    assert "there is a trip already" in capsys.readouterr().err
    assert (tmp_path / "trip.toml").read_text() == "mine"


def test_a_file_is_no_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "hut").write_text("")
    assert run(["start", str(tmp_path / "hut"), "--yes"]) == 2
    assert run(["start", str(tmp_path / "hut" / "deeper"), "--yes"]) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_the_place_of_the_file_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["start", str(tmp_path / "hut"), "--yes", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["trip"] == str(tmp_path / "hut" / "trip.toml")


def answered(folder: Path, answers: str) -> subprocess.CompletedProcess[str]:
    """Start a trip with answers on standard input."""
    program = "from coldsoak.faces.command import main; main()"
    return subprocess.run(
        [sys.executable, "-c", program, "start", str(folder)],
        input=answers,
        capture_output=True,
        text=True,
        timeout=60,
    )


def test_answers_reach_the_file(tmp_path: Path) -> None:
    result = answered(tmp_path, 'the "high" hut\n' + "\n" * 30)
    assert result.returncode == 0, result.stderr
    assert read_trip(tmp_path / "trip.toml").name == 'the "high" hut'


def test_an_impossible_answer_is_one_message_and_writes_nothing(tmp_path: Path) -> None:
    result = answered(tmp_path, "hut\n\n40 stone\n" + "\n" * 30)
    assert result.returncode == 2
    assert "40 stone" in result.stderr
    assert not (tmp_path / "trip.toml").exists()


def test_without_answers_the_way_out_is_named(tmp_path: Path) -> None:
    result = answered(tmp_path, "")
    assert result.returncode == 2
    assert "--yes" in result.stderr
