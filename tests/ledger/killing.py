"""Kill a writer of the journal at random instants, again and again (see test_killed).

Each round forks a writer, which acknowledges through a pipe what it has written, kills it, and
then holds the journal against what was acknowledged. The instant is drawn between the birth of the
writer and twice the time that a first write takes here.
"""

import json
import os
import random
import signal
import sqlite3
import sys
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from coldsoak.ledger.intake import Row
from coldsoak.ledger.journal import correct, enter, history, withdraw
from coldsoak.ledger.merge import merge
from ledger.example import seen

NAME = "Invented hut, two nights"
VERSION1 = (Path(__file__).parent / "version1.sql").read_text("utf-8")
MANY = 60

Acknowledge = Callable[[str], object]


def entering(path: Path, acknowledge: Acknowledge) -> None:
    """Enter readings for ever."""
    while True:
        acknowledge(str(enter(path, NAME, seen()).id))


def changing(path: Path, acknowledge: Acknowledge) -> None:
    """Enter a reading, correct it, withdraw the correction, for ever."""
    while True:
        first = enter(path, NAME, seen(note="first")).id
        acknowledge(f"first {first}")
        second = correct(path, NAME, first, seen(note="second")).id
        acknowledge(f"second {second}")
        withdraw(path, NAME, second, "in doubt")
        acknowledge(f"withdrawn {second}")


def importing(path: Path, acknowledge: Acknowledge) -> None:
    """Take in files of many rows for ever."""
    while True:
        shift = len(history(path))
        rows = [Row(line, seen(shift + line)) for line in range(MANY)]
        acknowledge(str(merge(path, NAME, rows, "many.csv").added[-1]))


def check_entered(path: Path, acknowledged: list[str]) -> None:
    """Every reading that was acknowledged is there, and at most one more."""
    ids = {each.id for each in history(path)}
    assert {int(each) for each in acknowledged} <= ids
    if acknowledged:
        assert max(ids) - int(acknowledged[-1]) <= 1


def check_changed(path: Path, acknowledged: list[str]) -> None:
    """Every correction and withdrawal that was acknowledged is there."""
    by_id = {each.id: each for each in history(path)}
    for what, id in (each.split() for each in acknowledged):
        found = by_id[int(id)]
        assert found.note == ("first" if what == "first" else "second")
        assert what != "second" or by_id[found.corrects or 0].corrected_by == found.id
        assert what != "withdrawn" or found.withdrawn is not None


def check_imported(path: Path, acknowledged: list[str]) -> None:
    """A file is there as a whole or not at all, and there if that was acknowledged."""
    count = len(history(path))
    assert count % MANY == 0
    assert not acknowledged or count >= int(acknowledged[-1])


def check_migrated(path: Path, acknowledged: list[str]) -> None:
    """The readings of the earlier version are all there, and all that were acknowledged."""
    assert [each.written for each in history(path)][:3] == ["35.5 lb", "-20 degC", "31.2 lb"]
    check_entered(path, acknowledged)


def keep(path: Path) -> None:
    """Go on with the journal of the round before."""


def begin(path: Path) -> None:
    """Start each round without a journal."""
    for each in path.parent.iterdir():
        each.unlink()


def keep_small(path: Path) -> None:
    """Go on with the journal of the round before, until ten files are in it."""
    if len(history(path)) >= 10 * MANY:
        begin(path)


def begin_earlier(path: Path) -> None:
    """Start each round with a journal of version 1."""
    begin(path)
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(VERSION1)


SCENES = {
    "entering": (keep, entering, check_entered),
    "changing": (keep, changing, check_changed),
    "birth": (begin, entering, check_entered),
    "migration": (begin_earlier, entering, check_migrated),
    "importing": (keep_small, importing, check_imported),
}


def born(path: Path, write: Callable[[Path, Acknowledge], None]) -> tuple[int, int]:
    """A new writer: its process, and where its acknowledgements can be read."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reader)
        try:
            write(path, lambda words: os.write(writer, f"{words}\n".encode()))
        finally:
            os._exit(1)  # a writer never ends by itself
    os.close(writer)
    return child, reader


def kill(child: int, reader: int) -> list[str]:
    """Kill a writer; what it acknowledged until then."""
    os.kill(child, signal.SIGKILL)
    status = os.waitpid(child, 0)[1]
    assert os.WIFSIGNALED(status), "the writer failed before it was killed"
    with os.fdopen(reader) as pipe:
        return pipe.read().splitlines()


def first_time(path: Path, write: Callable[[Path, Acknowledge], None]) -> float:
    """How long a writer takes until it acknowledges something [s]."""
    started = time.perf_counter()
    child, reader = born(path, write)
    os.read(reader, 1)
    elapsed = time.perf_counter() - started
    kill(child, reader)
    return elapsed


def campaign(folder: Path, scene: str, rounds: int) -> dict[str, float]:
    """Kill one kind of writer some times; how often it was in the midst of a write."""
    prepare, write, check = SCENES[scene]
    path = folder / "trip.journal.sqlite"
    counts = {"rounds": rounds, "acknowledged": 0, "in_the_midst": 0}
    started = time.perf_counter()
    prepare(path)
    span = 2.0 * min(first_time(path, write) for _ in range(3))
    for _ in range(rounds):
        prepare(path)
        child, reader = born(path, write)
        time.sleep(random.uniform(0.0, span))
        acknowledged = kill(child, reader)
        logs = [each for each in folder.iterdir() if each.name.endswith(("-wal", "-journal"))]
        counts["in_the_midst"] += bool(logs)
        counts["acknowledged"] += len(acknowledged)
        check(path, acknowledged)
    return counts | {"seconds": round(time.perf_counter() - started, 2)}


if __name__ == "__main__":
    print(json.dumps(campaign(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))))
