"""Several processes write into one journal at once, and each finds what the others left."""

import subprocess
import sys
from pathlib import Path

import pytest

from coldsoak.errors import InputError
from coldsoak.ledger.journal import correct, enter, history, readings

from .example import seen

HERE = Path(__file__).parent
NAME = "Invented hut, two nights"

PROGRAM = """
import sys
from pathlib import Path
sys.path.insert(0, sys.argv[1])
from ledger.example import seen
from coldsoak.ledger.journal import correct, enter
path, name, count, corrects = Path(sys.argv[2]), sys.argv[3], int(sys.argv[4]), sys.argv[5]
sys.stdin.readline()
for number in range(count):
    what = seen(number, note=name)
    if number and corrects == "correcting":
        last = correct(path, "Invented hut, two nights", last, what).id
    else:
        last = enter(path, "Invented hut, two nights", what).id
"""


def writers(path: Path, names: list[str], count: int, how: str) -> list[subprocess.Popen[str]]:
    """Processes that are ready to write and wait for a word."""
    return [
        subprocess.Popen(
            [sys.executable, "-c", PROGRAM, str(HERE.parent), str(path), name, str(count), how],
            stdin=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for name in names
    ]


@pytest.mark.parametrize(
    ("names", "count", "how"),
    [
        (["a", "b"], 60, "entering"),
        (["a", "b"], 60, "correcting"),
        (["a", "b", "c"], 5, "entering"),
    ],
)
def test_all_that_was_written_at_once_is_there(
    tmp_path: Path, names: list[str], count: int, how: str
) -> None:
    """Also the beginning of the journal is a race here: it is not there before."""
    path = tmp_path / "trip.journal.sqlite"
    processes = writers(path, names, count, how)
    for process in processes:
        assert process.stdin is not None
        process.stdin.write("go\n")
        process.stdin.flush()
    for process in processes:
        assert process.communicate(timeout=120)[1] == ""
        assert process.returncode == 0
    found = history(path)
    assert [each.id for each in found] == list(range(1, len(names) * count + 1))
    for name in names:
        assert sum(each.note == name for each in found) == count


def test_of_two_corrections_of_one_reading_the_second_is_told(tmp_path: Path) -> None:
    path = tmp_path / "trip.journal.sqlite"
    enter(path, NAME, seen(value=14.0))
    correct(path, NAME, 1, seen(value=13.0))
    with pytest.raises(InputError, match="reading 1 was corrected by reading 2"):
        correct(path, NAME, 1, seen(value=12.0))
    assert [each.value for each in readings(path)] == [13.0]
