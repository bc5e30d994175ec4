"""``coldsoak burn``: a true input and its plate."""

import json
from typing import Any

import pytest

from coldsoak.faces.command import run

Capture = pytest.CaptureFixture[str]
WEIGHT = ["burn", "--start", "16 kg", "--end", "12 kg", "--time", "12 h"]


def answer(capsys: Capture, arguments: list[str]) -> Any:
    assert run([*arguments, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_weighed_loss_gives_the_input(capsys: Capture) -> None:
    made = answer(capsys, [*WEIGHT, "--fuel", "HD-5", "--plate", "16000 Btu/h"])
    # 4 kg of about 50.3 MJ/kg in 12 h
    assert made["input_W"] == pytest.approx(4 * 50.3e6 / 43200, rel=0.005)
    assert made["fit"] == "fits"
    assert made["input_low_W"] < made["input_W"] < made["input_high_W"]


def test_an_orifice_gives_the_input_by_code_and_by_physics(capsys: Capture) -> None:
    made = answer(
        capsys, ["burn", "--drill", "68", "--pressure", "11 inH2O", "--elevation", "1450 m"]
    )
    numbers = made["numbers"]
    # printed table: 3.051 ft3/h of 2,477 Btu
    assert numbers["code_sea_level_W"] == pytest.approx(3.051 * 2477 * 0.29307, rel=0.005)
    assert numbers["code_derated_W"] < made["input_W"] < numbers["physics_sea_level_W"]


def test_an_overfired_burner_is_said(capsys: Capture) -> None:
    made = answer(capsys, [*WEIGHT, "--plate", "12000 Btu/h"])
    assert made["fit"] == "over"
    assert "licensed" in made["says"]


def test_the_screen_leads_with_the_input(capsys: Capture) -> None:
    assert run([*WEIGHT, "--plate", "16000 Btu/h", "--units", "us"]) == 0
    out = capsys.readouterr().out
    assert "Btu/h by weight" in out.splitlines()[0]
    assert all(len(line) <= 80 for line in out.splitlines())


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["burn"], "--diameter is missing"),
        (["burn", "--start", "16 kg"], "--end is missing"),
        ([*WEIGHT[:3], "--end", "17 kg", "--time", "2 h"], "heavier weighing first"),
        (["burn", "--drill", "5"], "number drills go from 80"),
        (["burn", "--drill", "70", "--diameter", "1 mm"], "give one of them"),
        ([*WEIGHT, "--fuel", "wood"], "unknown grade"),
        ([*WEIGHT, "--plate", "16000"], "--plate"),
        (["burn", "--drill", "70", "--pressure", "20 psi"], "low pressure"),
    ],
)
def test_bad_input_is_one_message(arguments: list[str], words: str, capsys: Capture) -> None:
    assert run(arguments) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert words in captured.err
