"""A place, a start and a short way to read weather, for all tests of the readers."""

from datetime import datetime
from pathlib import Path
from types import SimpleNamespace

import pytest

from coldsoak.weather.read import read_weather

DATA = Path(__file__).parent / "data"
RIDGE = SimpleNamespace(elevation=1450.0, latitude=46.9, longitude=-113.4)
NOWHERE = SimpleNamespace(elevation=None, latitude=None, longitude=None)
START = datetime(2026, 1, 16, 16)


@pytest.fixture
def read():
    """Read a source for a trip; hours instead of seconds, and the invented ridge as the place."""

    def reader(source, start=START, hours=4.0, place=RIDGE, folder=DATA):
        return read_weather(source, start=start, length=hours * 3600.0, place=place, folder=folder)

    return reader


@pytest.fixture
def read_text(read, tmp_path):
    """Read a text as a weather CSV."""

    def reader(text, **trip):
        content = text if isinstance(text, bytes) else text.encode()
        (tmp_path / "trip.csv").write_bytes(content)
        return read(Path("trip.csv"), folder=tmp_path, **trip)

    return reader
