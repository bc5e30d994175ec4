"""``coldsoak pressure``: one conclusion, always with the leak search, never more than it knows."""

import json
from typing import Any

import pytest

from coldsoak.faces.command import run

Capture = pytest.CaptureFixture[str]
DROP = ["pressure", "drop", "--start", "8 inH2O", "--time", "3 min"]
WARM = ["--start-temperature", "10 degC", "--end-temperature", "10 degC"]


def answer(capsys: Capture, arguments: list[str]) -> Any:
    assert run([*arguments, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


@pytest.mark.parametrize(
    ("arguments", "conclusion"),
    [
        (["pressure", "lock-up", "--reading", "12 inH2O"], "good"),
        (["pressure", "lock-up", "--reading", "32 mbar", "--set", "30 mbar"], "good"),
        (["pressure", "lock-up", "--reading", "15 inH2O"], "too high"),
        (["pressure", "flow", "--reading", "7 inH2O"], "too low"),
        (["pressure", "flow", "--reading", "28 mbar", "--set", "30 mbar"], "good"),
        ([*DROP, "--end", "7 inH2O"], "cannot tell"),
        ([*DROP, "--end", "7 inH2O", *WARM], "leak"),
        ([*DROP, "--end", "8 inH2O", *WARM], "no loss found"),
        ([*DROP, "--end", "8 inH2O"], "cannot tell"),
        ([*DROP, "--end", "8 inH2O", *WARM, "--method", "NFPA 54"], "cannot tell"),
        ([*DROP, "--end", "8 inH2O .. 9 inH2O", *WARM], "cannot tell"),
        (["pressure", "creep", *DROP[2:], "--end", "12 inH2O", *WARM], "creeps"),
    ],
)
def test_a_reading_means_what_it_can(
    arguments: list[str], conclusion: str, capsys: Capture
) -> None:
    made = answer(capsys, arguments)
    assert made["schema"] == "coldsoak.pressure/1"
    assert made["conclusion"] == conclusion
    assert "never with a flame" in made["cautions"][0]["text"]
    assert all(entry["source"] for entry in made["assumed"])


def test_the_size_of_a_leak_is_told_with_its_volume(capsys: Capture) -> None:
    made = answer(capsys, [*DROP, "--end", "6 inH2O", *WARM, "--volume", "1.5 L"])
    numbers = made["numbers"]
    assert 0 < numbers["leak_g_per_h"] < numbers["leak_at_most_g_per_h"]


def test_the_screen_leads_with_the_conclusion_in_either_units(capsys: Capture) -> None:
    for units, unit in (("us", "inH2O"), ("si", "kPa")):
        assert run([*DROP, "--end", "7 inH2O", *WARM, "--units", units]) == 0
        out = capsys.readouterr().out
        assert out.startswith("LEAK  (RV practice)")
        assert unit in out
        assert "licensed" in out
        assert all(len(line) <= 80 for line in out.splitlines())


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["pressure", "lock-up"], "--reading is missing"),
        (["pressure", "lock-up", "--reading", "12"], "--reading: found"),
        (["pressure", "lock-up", "--reading", "12 kg"], "a mass, where gauge pressure"),
        (["pressure", "lock-up", "--reading", "unknown"], "give what was read"),
        ([*DROP], "--end is missing"),
        ([*DROP, "--end", "7 inH2O", "--method", "NFPA 45"], "allowed: NFPA 54"),
        ([*DROP, "--end", "7 inH2O", "--volume", "2 m"], "--volume"),
        (["pressure", "soup"], "'soup' is not one of"),
    ],
)
def test_bad_input_is_one_message(arguments: list[str], words: str, capsys: Capture) -> None:
    assert run(arguments) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert words in captured.err
