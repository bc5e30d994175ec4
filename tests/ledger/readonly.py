"""Read and write a journal where a user may do neither but read (see test_store).

The administrator may write everywhere, so it becomes the user "nobody" first.
"""

import os
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

import pytest

from coldsoak.ledger.journal import enter, history
from coldsoak.ledger.refusal import JournalError
from ledger.example import files_in, seen

NOBODY = 65534
NAME = "Invented hut, two nights"


def main() -> None:
    """Begin a journal, take the right to write away, and look at it as nobody."""
    folder = Path(tempfile.mkdtemp(prefix="coldsoak-readonly-"))
    path = folder / "trip.journal.sqlite"
    kept = [enter(path, NAME, seen(hours)) for hours in range(3)]
    before = files_in(folder)
    path.chmod(0o444)
    folder.chmod(0o555)

    child = os.fork()
    if child == 0:
        if os.geteuid() == 0:
            os.setuid(NOBODY)
        assert list(history(path)) == kept
        print("read")
        with pytest.raises(JournalError, match="it cannot be written there"):
            enter(path, NAME, seen())
        print("refused")
        assert files_in(folder) == before
        print("untouched")
        with pytest.raises(JournalError, match="it cannot be written there"):
            enter(folder / "other.journal.sqlite", NAME, seen())
        print("not-begun")
        sys.stdout.flush()
        os._exit(0)

    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    folder.chmod(0o755)
    path.unlink()
    folder.rmdir()
    sys.exit(status)


if __name__ == "__main__":
    main()
