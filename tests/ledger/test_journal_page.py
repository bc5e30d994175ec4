"""docs/journal.md says what the program does: its kinds, its commands, its examples of CSV."""

import re
import shlex
from pathlib import Path

import pytest

from coldsoak.faces.command import run
from coldsoak.ledger.journal import history
from coldsoak.ledger.kinds import below_tare, kinds

from .example import TEXT

PAGE = (Path(__file__).parent.parent.parent / "docs/journal.md").read_text("utf-8")
BLOCKS = re.findall(r"(?:^    .+\n)+", PAGE, re.MULTILINE)


def test_the_table_lists_every_kind() -> None:
    rows = re.findall(r"^\| (.+?) \| (.+?) \| (.+?) \|$", PAGE, re.MULTILINE)[1:]
    assert rows == [(of.name, of.about, of.meaning) for of in kinds().values()]


def test_the_share_below_the_tare_is_the_one_that_is_allowed() -> None:
    assert f"{below_tare() * 100:g} % less than its tare" in PAGE


def test_the_commands_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "trip.toml").write_text(TEXT)
    lines = [line for block in BLOCKS for line in block.split("\n") if "coldsoak" in line]
    assert len(lines) == 9
    for line in lines:
        words = shlex.split(line.replace("TRIP", str(tmp_path)).replace("night", f"{tmp_path}/x"))
        assert run(words[1:]) == 0, capsys.readouterr().err
    assert len(history(tmp_path / "trip.journal.sqlite")) == 5


@pytest.mark.parametrize("text", [block for block in BLOCKS if "coldsoak" not in block])
def test_the_notebooks_are_taken_in(
    tmp_path: Path, text: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "trip.toml").write_text(TEXT)
    (tmp_path / "night.csv").write_text(text.replace("    ", ""))
    assert run(["journal", str(tmp_path), "--import", str(tmp_path / "night.csv")]) == 0
    assert history(tmp_path / "trip.journal.sqlite")
