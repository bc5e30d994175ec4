"""The night on a steady grid of times, filled from the interpolants of the steps."""

from typing import NamedTuple

from coldsoak.night.records import Floats, Integers
from coldsoak.night.step import between
from coldsoak.physics.compiled import compiled


class Track(NamedTuple):
    """State on a steady grid of times, one row each; no rows where nothing is recorded."""

    seconds: Floats
    """float64[g] [s]"""
    room: Floats
    """Temperature inside, float64[g] [K]; NaN without a shelter."""
    asked: Floats
    """Gross heat that burners asked for since the start, float64[g] [J]."""
    cylinders: Floats
    """State of the cylinders, float64[g, c, WIDTH]."""
    side: Integers
    """Where each cylinder was connected, int64[g, c]."""


@compiled
def first_after(track: Track, seconds: float) -> int:
    """First row of the grid after ``seconds``."""
    if track.seconds.size < 2:
        return track.seconds.size
    return int(seconds / track.seconds[1] + 1e-9) + 1


@compiled
def in_step(track: Track, row: int, seconds: float, step: float) -> bool:
    """Whether grid row ``row`` lies in the step from ``seconds``, its end included."""
    return row < track.seconds.size and track.seconds[row] <= seconds + step + 1e-9


@compiled
def fill_row(
    out: Floats, part: float, state: Floats, stages: Floats, start: int, step: float
) -> None:
    """Fill ``out`` with the state's components from ``start`` on, at ``part`` of a step."""
    for i in range(out.size):
        out[i] = between(state, stages, start + i, step, min(1.0, part))
