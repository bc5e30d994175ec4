"""The hour in which the cylinders come closest to giving less than the burners ask for."""

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from coldsoak.night.series import Series

Floats = NDArray[np.float64]

HOUR = 3600.0


class WorstHour(NamedTuple):
    """What is asked and what each store of heat can give, as gas burned [W gross]."""

    seconds: float
    """Start of the hour since the start of the trip [s]."""
    asked: float
    """Mean over the hour [W]."""
    vapor: float
    """From the vapor above the liquid [W]."""
    sensible: float
    """From cooling liquid and wetted steel [W]."""
    wall: float
    """Through the wall [W]."""


def means_of_line(seconds: Floats, values: Floats, edges: Floats) -> Floats:
    """Mean of a piecewise linear series between consecutive edges.

    Parameters
    ----------
    seconds, values : float64[n]
        The series, seconds increasing, n at least 2.
    edges : float64[m + 1]
        Increasing, within the series.

    >>> means_of_line(np.array([0.0, 10.0]), np.array([0.0, 2.0]), np.array([0.0, 5.0, 10.0]))
    array([0.5, 1.5])
    """
    grid = np.union1d(seconds, edges)
    line = np.interp(grid, seconds, values)
    return _means(grid, (line[1:] + line[:-1]) / 2, edges)


def means_of_steps(seconds: Floats, values: Floats, edges: Floats) -> Floats:
    """Mean of a series whose every value holds until the next one, between consecutive edges.

    The parameters are those of :func:`means_of_line`.

    >>> means_of_steps(np.array([0.0, 5.0, 10.0]), np.array([1.0, 3.0, 9.0]), np.array([0.0, 10.0]))
    array([2.])
    """
    return _means(seconds, values[:-1], edges)


def _means(seconds: Floats, heights: Floats, edges: Floats) -> Floats:
    """Means between edges of what has these mean heights between the seconds."""
    integral = np.concatenate(([0.0], np.cumsum(np.diff(seconds) * heights)))
    means: Floats = np.diff(np.interp(edges, seconds, integral)) / np.diff(edges)
    return means


def worst_hour(series: "Series", until: float) -> WorstHour | None:
    """Find the hour with the least surplus of what the cylinders can give over what is asked.

    Parameters
    ----------
    series : Series
        Time series of a plan.
    until : float
        Hours that start later do not count: the first failure or the end of the trip [s].

    Returns
    -------
    WorstHour or None
        None when nothing is asked for before `until`.
    """
    starts = series.seconds[series.seconds <= until]
    asked = np.array([_mean_from(series, start) for start in starts])
    can = series.vapor_can + series.sensible_can + series.wall_can
    surplus = np.where(asked > 0, can[: len(starts)] - asked, np.inf)
    if not np.any(asked > 0):
        return None
    i = int(np.argmin(surplus))
    return WorstHour(
        float(starts[i]),
        float(asked[i]),
        float(series.vapor_can[i]),
        float(series.sensible_can[i]),
        float(series.wall_can[i]),
    )


def _mean_from(series: "Series", start: float) -> float:
    """Mean of what is asked for over the hour from `start`, shorter at the end of the trip [W]."""
    stop = min(start + HOUR, float(series.seconds[-1]))
    if stop <= start:
        return float(series.asked[-1])
    return float(means_of_steps(series.seconds, series.asked, np.array([start, stop]))[0])
