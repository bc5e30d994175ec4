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


SLACK = 1e-6
"""A row this near to an end of a step belongs to the steps on both sides, lest rounding leave it
to none [s]."""


@compiled
def first_after(track: Track, seconds: float) -> int:
    """First row of the grid after ``seconds``, or just at it."""
    if track.seconds.size < 2:
        return track.seconds.size
    row = int(seconds / track.seconds[1])
    while row < track.seconds.size and track.seconds[row] <= seconds - SLACK:
        row += 1
    return max(row, 1)


@compiled
def in_step(track: Track, row: int, seconds: float, step: float) -> bool:
    """Whether grid row ``row`` lies in the step from ``seconds``, its end included."""
    return row < track.seconds.size and track.seconds[row] <= seconds + step + SLACK


@compiled
def part_of_step(track: Track, row: int, seconds: float, step: float) -> float:
    """How far into the step from ``seconds`` grid row ``row`` lies, 0 to 1."""
    return min(1.0, max(0.0, track.seconds[row] - seconds) / max(step, SLACK))


@compiled
def fill_row(
    out: Floats, part: float, state: Floats, stages: Floats, start: int, step: float
) -> None:
    """Fill ``out`` with the state's components from ``start`` on, at ``part`` of a step."""
    for i in range(out.size):
        out[i] = between(state, stages, start + i, step, part)
