"""The good trip file of these tests, and copies of it with one thing changed."""

from pathlib import Path

import pytest

from coldsoak.errors import TripError
from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import Trip

GOOD = (Path(__file__).parent / "good_trip.toml").read_text("utf-8")

SMALLEST = """\
[trip]
weather = { temperature = "-20 degC" }
[[cylinder]]
size = "20 lb"
contents = "15 lb"
"""


def changed(old: str, new: str, text: str = GOOD) -> str:
    """The text with one passage replaced, which must be in it."""
    assert old in text, old
    return text.replace(old, new, 1)


def trip_with(old: str, new: str, text: str = GOOD) -> Trip:
    """The trip of a changed text."""
    return parse_trip(changed(old, new, text))


def refusal(old: str, new: str, text: str = GOOD) -> TripError:
    """The error that a changed text ends with."""
    with pytest.raises(TripError) as caught:
        trip_with(old, new, text)
    return caught.value


def line_of(passage: str, text: str) -> int:
    """The 1-based line on which a passage first stands."""
    return text[: text.index(passage)].count("\n") + 1
