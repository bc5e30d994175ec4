"""An invented trip and invented readings for these tests; no number here means anything."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta, timezone
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from coldsoak.ledger.journal import enter
from coldsoak.ledger.reading import Observation, Reading
from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import Trip

WEST = timezone(timedelta(hours=-7))
START = datetime(2026, 1, 16, 16, 0)

TEXT = """\
[trip]
name = "Invented hut, two nights"
start = 2026-01-16T16:00:00
length = "40 h"
weather = { temperature = "-20 degC" }

[fuel]
blend = { propane = 1.0 }

[[cylinder]]
name = "A"
size = "20 lb"
tare = "17 lb"
contents = "18 lb"

[[cylinder]]
name = "B"
size = "20 lb"
tare = "17 lb"
contents = "18 lb"
role = "spare"

[[appliance]]
name = "furnace"
kind = "burner"
input = "6000 Btu/h"
use = "always"
"""


@cache
def trip(text: str = TEXT) -> Trip:
    """The invented trip."""
    return parse_trip(text)


def with_offset() -> Trip:
    """The same trip, whose start says its UTC offset."""
    return trip(TEXT.replace("16:00:00", "16:00:00-07:00"))


def seen(hours: float = 0.0, value: float = 14.0, **changes: object) -> Observation:
    """A gross weight of cylinder A some hours after the start, by the clock of the place."""
    given = {
        "time": START + timedelta(hours=hours),
        "kind": "gross weight",
        "cylinder": "A",
        "value": value,
        "written": f"{value} kg",
    }
    return Observation(**given | changes)  # type: ignore[arg-type]


@contextmanager
def folder_in_memory() -> Iterator[Path]:
    """A folder for tests that try very many journals, where a disk would be waited for."""
    memory = Path("/dev/shm")
    with TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder:
        yield Path(folder)


def files_in(folder: Path) -> dict[str, bytes]:
    """Every file of a folder with its bytes."""
    return {each.name: each.read_bytes() for each in sorted(folder.iterdir()) if each.is_file()}


def enter_many(path: Path, kept: list[Reading]) -> None:
    """Enter large readings one by one until one is refused; `kept` grows by those that were not."""
    for _ in range(500):
        kept.append(enter(path, trip().name, seen(note="x" * 1500)))
