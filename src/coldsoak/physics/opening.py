"""Air that passes through vents and other openings, driven by stack and wind.

A room warmer than the air around it draws in low and lets out high; between lies the neutral level,
where the pressures inside and outside are equal. Openings that all lie at one height have no stack.
"""

from math import sqrt
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from coldsoak.physics.compiled import compiled

DISCHARGE = 0.6
"""Discharge coefficient of a sharp-edged opening."""

ACROSS = 0.25
"""Wind that enters through the windward half of several openings, over wind: the low end of
ASHRAE Fundamentals (2009), chapter 16, for wind at an angle (0.25 to 0.35; 0.5 to 0.6 for wind
straight on), from memory."""

ONE_SIDED = 0.025
"""The same for a single opening: BS 5925:1991, single-sided ventilation, from memory."""

GRAVITY = 9.80665
"""[m/s2]"""


class Vents(NamedTuple):
    """What the openings of a room let through, whatever the weather."""

    stack: float
    """Flow over the root of twice gravity times relative difference of temperature [m2.5]."""
    wind: float
    """Flow over wind [m2]."""


def neutral_level(areas: NDArray[np.float64], heights: NDArray[np.float64]) -> float:
    """Height at which as much comes in below as goes out above, by bisection to 2^-50 of the span.

    The same density is taken inside and outside, which moves the level by a hundredth of the
    span at 40 K.

    Parameters
    ----------
    areas : float64[n]
        Of the openings [m2].
    heights : float64[n]
        Of their middles above the floor [m].
    """
    low, high = float(heights.min()), float(heights.max())
    for _ in range(50):
        middle = 0.5 * (low + high)
        above = areas * np.sqrt(np.clip(heights - middle, 0.0, None))
        below = areas * np.sqrt(np.clip(middle - heights, 0.0, None))
        low, high = (middle, high) if above.sum() > below.sum() else (low, middle)
    return 0.5 * (low + high)


def vents_of(areas: NDArray[np.float64], heights: NDArray[np.float64]) -> Vents:
    """What openings of some areas [m2] at some heights [m] let through; none let through nothing.

    Hydrostatics and the orifice equation, ASHRAE Fundamentals (2009), chapter 16, flow caused by
    thermal forces. Two equal openings 1.5 m apart act as one over the root of two:

    >>> vents = vents_of(np.array([0.01, 0.01]), np.array([0.2, 1.7]))
    >>> round(vents.stack / (0.6 * 0.01 * 0.75**0.5), 6)
    1.0
    """
    if areas.size == 0:
        return Vents(0.0, 0.0)
    rise = np.clip(heights - neutral_level(areas, heights), 0.0, None)
    stack = DISCHARGE * float((areas * np.sqrt(rise)).sum())
    if areas.size == 1:
        return Vents(stack, ONE_SIDED * float(areas[0]))
    return Vents(stack, ACROSS * 0.5 * float(areas.sum()))


@compiled
def vent_flow(stack: float, wind_area: float, inside: float, outside: float, wind: float) -> float:
    """Outside air that comes in through the openings [m3/s].

    Stack and wind add as squares (ASHRAE Fundamentals (2009), chapter 16).

    Parameters
    ----------
    stack, wind_area : float
        Of `Vents`.
    inside, outside : float
        Temperatures [K]; where it is warmer outside the air runs the other way.
    wind : float
        At the shelter [m/s].
    """
    drive = 2.0 * GRAVITY * abs(inside - outside) / max(inside, outside)
    by_wind = wind_area * wind
    return sqrt(stack * stack * drive + by_wind * by_wind)
