"""How water in a pipe or a tank cools to 0 C and turns to ice, from the air's temperature in time.

The water is one well-mixed mass down to 0 C, where it freezes from the wall inward; supercooling
is not counted, nor is the heat in the wall of pipe or tank, which would both delay the ice.
Between freezing front and center the water is at 0 C. The front is taken as round, exact for a
pipe; a box of 4 : 2 : 1 has the same heat path within 3 % of Plank's (1941) shape factors.

Its enthalpy is all that changes: what leaves through ice, insulation and the film of air outside.
"""

from math import log
from typing import NamedTuple

import numpy as np
from numpy import cbrt
from numpy.typing import NDArray

from coldsoak.physics.compiled import compiled
from coldsoak.physics.film import (
    STEFAN_BOLTZMANN,
    forced,
    free_horizontal,
    free_upright,
)
from coldsoak.physics.moistair import FUSION_HEAT

Floats = NDArray[np.float64]

FREEZING_POINT = 273.15
"""[K]"""

DENSITY = 999.8
"""Of water at 0 C [kg/m3] (IAPWS-95, from memory)."""

HEAT_CAPACITY = 4220.0
"""Of water at 0 C [J/(kg K)] (IAPWS-95, from memory; 4184 at 20 C)."""

ICE_CONDUCTIVITY = 2.2
"""Of ice at 0 C [W/(m K)]: 2.14 to 2.22 in handbooks, from memory."""

EMISSIVITY = 0.9
"""Of pipes and tanks of plastic, and of painted ones."""

LONGEST_STEP = 60.0
"""[s]"""

STEP_SHARE = 0.1
"""Longest step over the time in which water takes on the temperature of the air."""

SMALLEST_DIFFERENCE = 1e-3
"""Between surface and air, for the film [K]."""

WHOLE = 0.999999
"""Share of ice at which the water is frozen through: the last drop has no heat path of its own."""


class Body(NamedTuple):
    """A pipe or a tank full of water."""

    radius: float
    """Twice the volume over the surface [m]; the radius of a pipe."""
    length: float
    """Along which the air moves [m]: diameter of a pipe, height of a tank."""
    lying: bool
    """Whether it is a pipe, taken as horizontal, else a tank with upright walls."""
    insulation: float
    """Resistance around it [m2 K/W], on the surface of the water."""


class Freezing(NamedTuple):
    """What the water comes to; times are NaN if they are not reached."""

    cold: float
    """When it reaches 0 C [s]."""
    frozen: float
    """When its share of ice reaches the one asked for [s]."""
    coldest: float
    """Lowest temperature, 0 C once there is ice [K]."""
    most_ice: float
    """Largest share of ice."""


@compiled
def pipe(diameter: float, insulation: float) -> Body:
    """A pipe of an inside diameter [m] with a resistance around it [m2 K/W]."""
    return Body(0.5 * diameter, diameter, True, insulation)


@compiled
def tank(volume: float, area: float, insulation: float) -> Body:
    """A tank of a volume [m3] and a surface [m2]; its height that of a box of 4 : 2 : 1.

    >>> body = tank(0.008, 0.28, 0.0)
    >>> round(body.length, 6)
    0.1
    """
    return Body(2.0 * volume / area, 3.5 * volume / area, False, insulation)


@compiled
def film(difference: float, air: float, wind: float, body: Body, pressure: float) -> float:
    """Heat transfer to the air and to surroundings at its temperature [W/(m2 K)].

    Free convection by Churchill & Chu (1975), wind by Churchill & Bernstein (1977), blended with
    exponent 3, and radiation; `difference` [K] is that of surface and air.
    """
    size = max(abs(difference), SMALLEST_DIFFERENCE)
    mean = air + 0.5 * difference
    if body.lying:
        still, _ = free_horizontal(size, mean, body.length, pressure)
    else:
        still, _ = free_upright(size, mean, body.length, pressure)
    moving = forced(wind, mean, body.length, pressure)
    radiation = 4.0 * EMISSIVITY * STEFAN_BOLTZMANN * mean * mean * mean
    return float(cbrt(still * still * still + moving * moving * moving)) + radiation


@compiled
def ice_resistance(ice: float, radius: float) -> float:
    """Resistance of the ice between wall and front [m2 K/W], on the wall.

    r ln(r/x) / k with the front at x = r (1 - ice)^(1/2).

    >>> round(ice_resistance(0.75, 0.01), 6)
    0.003151
    """
    return -0.5 * radius * log(1.0 - min(ice, WHOLE)) / ICE_CONDUCTIVITY


@compiled
def heat_flux(
    water: float, ice: float, air: float, wind: float, body: Body, pressure: float
) -> float:
    """Heat that leaves the water through its wall [W/m2].

    The film depends on the surface, which lies behind ice and insulation: four rounds of
    substitution, whose error is 1e-4 of the heat or less, as the film goes with the fourth root
    of the difference.
    """
    behind = body.insulation + (ice_resistance(ice, body.radius) if air < water else 0.0)
    difference = water - air
    surface = difference
    flux = 0.0
    for _ in range(4):
        outside = film(surface, air, wind, body, pressure)
        flux = difference / (behind + 1.0 / outside)
        surface = flux / outside
    return flux


@compiled
def ice_time(share: float, difference: float, resistance: float, radius: float) -> float:
    """Time in which water at 0 C comes to a share of ice [s], at a steady resistance outside.

    Parameters
    ----------
    share : float
        Of ice, 0 to 1.
    difference : float
        Between 0 C and the air [K], above 0.
    resistance : float
        Of insulation and film [m2 K/W], on the wall.
    radius : float
        [m]

    References
    ----------
    Stefan's problem with a film, quasi-steady and round (London & Seban 1943, Trans. ASME 65,
    771-778); frozen through it is Plank's (1941) equation, P = 1/4 and R = 1/16 of the diameter.

    Examples
    --------
    >>> round(ice_time(1.0, 10.0, 0.1, 0.01))
    17047
    """
    heat = DENSITY * FUSION_HEAT * 0.5 * radius / difference
    rest = 1.0 - share
    inward = share + (rest * log(rest) if rest > 0.0 else 0.0)
    return heat * (resistance * share + 0.5 * radius / ICE_CONDUCTIVITY * inward)


@compiled
def sensible(body: Body) -> float:
    """Heat that cools the water by a kelvin, for each area of wall [J/(m2 K)]."""
    return 0.5 * DENSITY * HEAT_CAPACITY * body.radius


@compiled
def latent(body: Body) -> float:
    """Heat that freezes all of the water at 0 C, for each area of wall [J/m2]."""
    return 0.5 * DENSITY * FUSION_HEAT * body.radius


@compiled
def loss(heat: float, air: float, wind: float, body: Body, pressure: float) -> float:
    """Heat that leaves the water [W/m2] when it holds ``heat`` [J/m2] above water at 0 C."""
    warmth = max(0.0, heat) / sensible(body)
    ice = min(1.0, max(0.0, -heat) / latent(body))
    return heat_flux(FREEZING_POINT + warmth, ice, air, wind, body, pressure)


@compiled
def first_below(mark: float, before: float, after: float, seconds: float, step: float) -> float:
    """When the heat falls to ``mark`` in a step, straight between its ends; NaN if it does not."""
    if before > mark >= after:
        return seconds + step * (before - mark) / (before - after)
    return np.nan


@compiled
def freeze(
    seconds: Floats,
    air: Floats,
    wind: Floats,
    start: float,
    share: float,
    body: Body,
    pressure: float,
) -> Freezing:
    """Follow the water through a night.

    Parameters
    ----------
    seconds, air, wind : float64[n]
        Times [s], and temperature [K] and speed [m/s] of the air around it, straight between.
    start : float
        Temperature of the water at the start [K], at least 0 C.
    share : float
        Of ice, at which it counts as frozen, above 0 to 1.
    body : Body
    pressure : float
        Of the air [Pa].

    Notes
    -----
    Explicit midpoint steps of the enthalpy, at most a tenth of the time constant of the water and
    60 s. Ice melts again when the air is above 0 C.
    """
    heat = max(0.0, start - FREEZING_POINT) * sensible(body)
    mark = -min(share, WHOLE) * latent(body)
    cold = frozen = np.nan
    if heat <= 0.0 and air[0] < FREEZING_POINT:
        cold = seconds[0]
    least = heat
    for n in range(seconds.size - 1):
        time, length = seconds[n], seconds[n + 1] - seconds[n]
        warming, gusting = (air[n + 1] - air[n]) / length, (wind[n + 1] - wind[n]) / length
        while time < seconds[n + 1]:
            past = time - seconds[n]
            here, gust = air[n] + warming * past, wind[n] + gusting * past
            warmth = FREEZING_POINT + max(0.0, heat) / sensible(body) - here
            rate = film(warmth, here, gust, body, pressure)
            step = min(LONGEST_STEP, STEP_SHARE * sensible(body) / rate)
            step = min(step, seconds[n + 1] - time)
            half = heat - 0.5 * step * loss(heat, here, gust, body, pressure)
            here, gust = here + 0.5 * step * warming, gust + 0.5 * step * gusting
            after = heat - step * loss(half, here, gust, body, pressure)
            after = max(after, -latent(body))
            if np.isnan(cold):
                cold = first_below(0.0, heat, after, time, step)
            if np.isnan(frozen):
                frozen = first_below(mark, heat, after, time, step)
            heat = after
            least = min(least, heat)
            time = seconds[n + 1] if time + step >= seconds[n + 1] else time + step
    coldest = FREEZING_POINT + max(0.0, least) / sensible(body)
    return Freezing(cold, frozen, coldest, min(1.0, max(0.0, -least) / latent(body)))
