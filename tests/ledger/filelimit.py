"""Write into a journal whose file may not grow beyond a size (see test_store)."""

import resource
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

import pytest

from coldsoak.ledger.journal import enter, history
from coldsoak.ledger.refusal import JournalError
from ledger.example import enter_many, seen

NAME = "Invented hut, two nights"


def main() -> None:
    """Write until the file may not grow, then lift the limit."""
    path = Path(sys.argv[1]) / "trip.journal.sqlite"

    kept = [enter(path, NAME, seen(hours)) for hours in range(5)]
    print("kept")

    unlimited = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (path.stat().st_size + 40_000, unlimited[1]))
    with pytest.raises(JournalError, match="the disk is full or failing"):
        enter_many(path, kept)
    print("refused")

    resource.setrlimit(resource.RLIMIT_FSIZE, unlimited)
    assert list(history(path)) == kept
    assert enter(path, NAME, seen()).id == len(kept) + 1
    print("safe")


if __name__ == "__main__":
    main()
