"""Heat balance of a small heated shelter: two nodes and the air that leaks through."""

import math

from coldsoak.physics.compiled import compiled

STACK_COEFFICIENT = 0.000145
"""Stack coefficient of a one-storey building [(L/s)2/(cm4 K)]."""

WIND_COEFFICIENT = 0.000319
"""Wind coefficient of a one-storey building with no obstructions [(L/s)2/(cm4 (m/s)2)]; the wind
that is passed in is already that at the shelter."""

HEAT_OF_AIR = 1006.0
"""Specific heat of dry air [J/kgK]."""

GAS_CONSTANT_OF_AIR = 287.05
"""[J/kgK]"""


@compiled
def infiltration(leakage_area: float, inside: float, outside: float, wind: float) -> float:
    """Air that leaks through a shelter by stack and wind [m3/s].

    Parameters
    ----------
    leakage_area : float
        Effective leakage area at 4 Pa [m2], 0 or more.
    inside, outside : float
        Air temperatures [K].
    wind : float
        Wind at the shelter [m/s].

    References
    ----------
    ASHRAE Handbook of Fundamentals (2009), chapter 16, basic model (Sherman & Grimsrud 1980),
    equation 48 with tables 4 and 6; coefficients from memory.

    Examples
    --------
    >>> round(1000 * infiltration(0.01, 293.15, 273.15, 0.0), 2)
    5.39
    """
    drive = STACK_COEFFICIENT * abs(inside - outside) + WIND_COEFFICIENT * wind * wind
    return 10.0 * leakage_area * math.sqrt(drive)


@compiled
def leakage_conductance(
    leakage_area: float, inside: float, outside: float, wind: float, pressure: float
) -> float:
    """Heat that the leaking air carries out per kelvin [W/K], at station ``pressure`` [Pa]."""
    density = pressure / (GAS_CONSTANT_OF_AIR * outside)
    return HEAT_OF_AIR * density * infiltration(leakage_area, inside, outside, wind)
