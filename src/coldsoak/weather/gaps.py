"""Bridging short gaps in observations, and refusing long ones."""

from datetime import datetime, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from coldsoak.errors import WeatherError
from coldsoak.weather.observed import Observed

Array = NDArray[np.float64]

LONGEST_GAP = 3.0 * 3600.0
"""Longest gap [s] that a straight line may bridge: common practice (the three hours between
the main observations of weather stations), no source."""


class Span(NamedTuple):
    """The time a trip takes: its start and its length [s]."""

    start: datetime
    length: float

    def clock(self, seconds: float) -> str:
        """A time since the start as the trip's clock shows it, to the minute."""
        try:
            return (self.start + timedelta(seconds=seconds)).isoformat(timespec="minutes")
        except OverflowError:
            return "a time outside the calendar"


def require_cover(observed: Observed, span: Span) -> None:
    """Raise WeatherError unless air temperatures reach from the trip's start to its end."""
    times = observed.seconds[np.isfinite(observed.air)]
    needed = f"the trip needs {span.clock(0.0)} to {span.clock(span.length)}"
    if not times.size:
        found = "no air temperature"
    elif times[0] > 0.0 or times[-1] < span.length:
        found = f"data from {span.clock(times[0])} to {span.clock(times[-1])}"
    else:
        return
    raise WeatherError(found, f"{needed}: add rows or move the trip", file=observed.file)


def bridged(observed: Observed, values: Array, at: Array, what: str, span: Span) -> Array:
    """One quantity at the table's times, straight between its known values.

    Before the first and after the last known value the nearest one is held.

    Parameters
    ----------
    observed : the source, for its times and for messages
    values : the quantity, NaN where there is none; at least one is known
    at : time since the trip's start [s], increasing, from 0 to the trip's length
    what : the quantity's name, for the message

    Raises WeatherError if a straight line or a held value would have to reach over more than 3 h.
    """
    known = np.isfinite(values)
    times = observed.seconds[known]
    edges = np.concatenate(([min(times[0], 0.0)], times, [max(times[-1], span.length)]))
    needed = (edges[1:] > 0.0) & (edges[:-1] < span.length)
    wide = np.flatnonzero(needed & (np.diff(edges) > LONGEST_GAP))
    if wide.size:
        raise _gap_error(observed, edges[wide[0]], edges[wide[0] + 1], what, span)
    return np.asarray(np.interp(at, times, values[known]), dtype=np.float64)


def _gap_error(observed: Observed, low: float, high: float, what: str, span: Span) -> WeatherError:
    """The message for a gap, with the line of the first row at or after its end."""
    row = int(np.searchsorted(observed.seconds, high))
    line = observed.lines[min(row, len(observed.lines) - 1)] if observed.lines else 0
    found = f"no value from {span.clock(low)} to {span.clock(high)} ({(high - low) / 3600.0:.1f} h)"
    allowed = "gaps of up to 3 h are bridged: fill in the rows, or move or shorten the trip"
    return WeatherError(found, allowed, file=observed.file, line=line or None, key=what)


def gap_note(observed: Observed, values: Array, what: str, span: Span) -> tuple[str, ...]:
    """Say how many gaps of one quantity were bridged inside the trip, if any.

    A gap is a place where two known values are further apart than half as much again as the
    file's usual step.
    """
    times = observed.seconds[np.isfinite(values)]
    if times.size < 2:
        return ()
    steps = np.diff(times)
    usual = float(np.median(np.diff(observed.seconds)))
    inside = (times[1:] > 0.0) & (times[:-1] < span.length) & (steps > 1.5 * usual)
    count = int(inside.sum())
    if not count:
        return ()
    longest = float(steps[inside].max()) / 3600.0
    gaps = "1 gap" if count == 1 else f"{count} gaps"
    return (f"{what}: {gaps} of up to {longest:.1f} h between values bridged by a straight line.",)
