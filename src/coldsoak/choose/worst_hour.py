"""The hour in which the cylinders come closest to giving less than the burners ask for."""

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from coldsoak.night.series import Series

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


def means_over(
    seconds: NDArray[np.float64], values: NDArray[np.float64], edges: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Mean of a piecewise linear series between consecutive edges.

    Parameters
    ----------
    seconds, values : float64[n]
        The series, seconds increasing, n at least 2.
    edges : float64[m + 1]
        Increasing; outside the series its integral stays as it is.

    >>> means_over(np.array([0.0, 10.0]), np.array([0.0, 2.0]), np.array([0.0, 5.0, 10.0]))
    array([0.5, 1.5])
    """
    steps = np.diff(seconds) * (values[1:] + values[:-1]) / 2
    integral = np.concatenate(([0.0], np.cumsum(steps)))
    return np.diff(np.interp(edges, seconds, integral)) / np.diff(edges)


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
    return float(means_over(series.seconds, series.asked, np.array([start, stop]))[0])
