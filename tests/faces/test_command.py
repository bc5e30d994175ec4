"""The command finds its verbs, answers quickly, and says every error as one message."""

import importlib
import json
import os
import subprocess
import sys
import sysconfig
import time
from pathlib import Path
from typing import Any

import click
import pytest

from coldsoak.errors import TripError
from coldsoak.faces import command as face
from coldsoak.faces.command import COMMANDS, run

HEAVY = ("numba", "pvlib", "pandas", "pyarrow", "pint", "rich", "numpy", "scipy", "pydantic")
"""Nothing of this is needed to say how the command is used."""

HELP_SECONDS = 0.25
"""Design of the project, section 11, on a two-core machine; the best of five counts."""


def coldsoak(*arguments: str, **options: Any) -> subprocess.CompletedProcess[str]:
    """Run the command in a process of its own."""
    program = "import sys; from coldsoak.faces.command import main; main()"
    return subprocess.run(
        [sys.executable, "-c", program, *arguments],
        capture_output=True,
        text=True,
        timeout=120,
        **options,
    )


def test_help_lists_every_command_and_no_other() -> None:
    text = coldsoak("--help").stdout
    listed = text.split("Commands:")[1].splitlines()
    names = [line.split()[0] for line in listed if line[:2] == "  " and line[2] != " "]
    assert names == list(COMMANDS)


def test_help_loads_nothing_heavy() -> None:
    program = (
        "import sys; from coldsoak.faces.command import run; code = run(['--help']);"
        f"print([name for name in {HEAVY!r} if name in sys.modules], code, file=sys.stderr)"
    )
    result = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, timeout=60
    )
    assert result.stderr.strip() == "[] 0"


def test_help_is_quick() -> None:
    script = Path(sysconfig.get_path("scripts")) / "coldsoak"
    assert min(_seconds([str(script), "--help"]) for _ in range(5)) <= HELP_SECONDS


def _seconds(words: list[str]) -> float:
    """Wall time of one process."""
    start = time.perf_counter()
    subprocess.run(words, capture_output=True, check=True, timeout=60)
    return time.perf_counter() - start


@pytest.mark.parametrize("name", COMMANDS)
def test_the_line_in_the_list_is_the_first_line_of_the_commands_own_help(name: str) -> None:
    command = importlib.import_module(f"coldsoak.faces.{name}").command
    assert command.name == name
    assert command.help.split("\n")[0] == COMMANDS[name]


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_takes_json(name: str) -> None:
    command = importlib.import_module(f"coldsoak.faces.{name}").command
    assert "--json" in [option for part in command.params for option in part.opts]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["frobnicate"], "there is no command 'frobnicate'; the commands are start, explain"),
        (["plan"], "Missing argument 'TRIP'"),
        (["plan", "no/such/trip"], "there is no trip file at no/such/trip"),
        (["plan", "x", "--units", "stone"], "'stone' is not one of"),
        (["plan", "x", "--series", "night.xlsx"], "it must be .parquet or .csv"),
        (["explain", "no/such/trip"], "there is no trip file"),
        (["schema", "soup"], "'soup' is not one of"),
    ],
)
def test_bad_input_is_one_message_and_exit_code_2(
    arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("coldsoak: ")
    assert words in err
    assert len(err.strip().splitlines()) == 1


def test_no_arguments_show_the_help_and_are_bad_input(capsys: pytest.CaptureFixture[str]) -> None:
    assert run([]) == 2
    assert "Commands:" in capsys.readouterr().err


def failing_with(error: BaseException, monkeypatch: pytest.MonkeyPatch) -> int:
    """Exit code when a command raises an error."""

    def fail(*args: object, **kwargs: object) -> None:
        raise error

    monkeypatch.setattr(face.coldsoak, "main", fail)
    return run(["plan"])


@pytest.mark.parametrize(
    ("error", "code", "words"),
    [
        (TripError("found 3", "give a unit", file="trip.toml", line=4, key="size"), 2, "line 4"),
        (KeyboardInterrupt(), 130, "stopped before it was finished"),
        (click.Abort(), 130, "stopped before it was finished"),
        (ZeroDivisionError("division by zero"), 70, "a fault of coldsoak itself: ZeroDivision"),
    ],
)
def test_no_error_becomes_a_traceback(
    error: BaseException,
    code: int,
    words: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert failing_with(error, monkeypatch) == code
    err = capsys.readouterr().err
    assert words in err
    assert "Traceback" not in err


def test_a_reader_that_has_seen_enough_is_no_failure() -> None:
    program = "import sys; from coldsoak.faces.command import main; main()"
    process = subprocess.Popen(
        [sys.executable, "-c", program, "schema", "plan"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.close()
    complaint = process.stderr.read()
    assert process.wait(60) == 0
    assert complaint == b""


def test_a_full_disk_is_one_message() -> None:
    full = Path("/dev/full")
    if not full.exists():
        pytest.skip("this system has no device that is always full")
    program = "from coldsoak.faces.command import main; main()"
    with full.open("w") as output:
        result = subprocess.run(
            [sys.executable, "-c", program, "schema", "plan"],
            stdout=output,
            stderr=subprocess.PIPE,
            text=True,
            timeout=60,
        )
    assert result.returncode == 2
    assert result.stderr.splitlines() == [
        "coldsoak: reading or writing failed: No space left on device"
    ]


def test_a_terminal_that_knows_ascii_only_gets_ascii() -> None:
    environment = {**os.environ, "PYTHONIOENCODING": "ascii"}
    result = coldsoak("plan", "hütte/…", env=environment)
    assert result.returncode == 2
    assert result.stderr.isascii()
    assert "Traceback" not in result.stderr


@pytest.mark.parametrize("subject", ["plan", "trip"])
def test_a_schema_is_json_and_describes_an_object(subject: str) -> None:
    result = coldsoak("schema", subject, "--json")
    assert result.returncode == 0
    assert json.loads(result.stdout)["type"] == "object"
