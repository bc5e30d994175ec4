"""Fill a small disk that holds a journal; run in a mount namespace of its own (see test_store)."""

import contextlib
import subprocess
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

import pytest

from coldsoak.errors import InputError
from coldsoak.ledger.export import export_text, write_export
from coldsoak.ledger.journal import enter, history
from coldsoak.ledger.refusal import JournalError
from ledger.example import enter_many, files_in, seen

NAME = "Invented hut, two nights"
ROOM = 48 * 1024
"""What is left of the disk [bytes]: enough for a log, not for much in it."""


def main() -> None:
    """Fill the disk, hold the journal to its word, make room again."""
    disk = Path(sys.argv[1])
    subprocess.run(["mount", "-t", "tmpfs", "-o", "size=300k", "none", str(disk)], check=True)
    path, ballast = disk / "trip.journal.sqlite", disk / "ballast"

    kept = [enter(path, NAME, seen(hours)) for hours in range(5)]
    print("kept")

    with ballast.open("wb", buffering=0) as file, contextlib.suppress(OSError):
        while file.write(b"x" * 1024):
            pass
    ballast.write_bytes(b"x" * (ballast.stat().st_size - ROOM))
    with pytest.raises(JournalError, match="the disk is full; nothing of it was written"):
        enter_many(path, kept)
    print("refused")

    try:
        assert list(history(path)) == kept
    except JournalError as error:  # a reader needs a little room too
        assert "the disk is full" in str(error)  # noqa: PT017
    print("safe")

    before = files_in(disk).keys()
    with pytest.raises(InputError, match="No space left"):
        write_export(disk / "out.csv", export_text(kept) * 1000)
    assert files_in(disk).keys() == before
    print("export-refused")

    ballast.unlink()
    assert list(history(path)) == kept
    assert enter(path, NAME, seen()).id == len(kept) + 1
    print("relieved")


if __name__ == "__main__":
    main()
