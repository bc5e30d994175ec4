"""Water vapor in air: saturation, dew and frost point, humidity, latent heats.

Saturation pressure is that of pure water or ice; the enhancement by air (0.4 % at most) is left
out everywhere alike. Weather services report humidity and dew point over liquid water below 0 C
too, so both curves are given and the caller names the one meant.
"""

from math import exp, log

from coldsoak.physics.compiled import compiled

GAS_CONSTANT_VAPOR = 461.52
"""[J/(kg K)], CODATA gas constant over 18.01528 g/mol."""

MASS_RATIO = 0.621945
"""Molar mass of water over that of dry air (ASHRAE Fundamentals 2017, ch. 1)."""

TRIPLE_POINT = 273.16
"""[K]: here both saturation curves meet."""

FUSION_HEAT = 333.43e3
"""[J/kg] at 0 C, Feistel & Wagner (2006); from memory."""

SUBLIMATION_HEAT = 2500.99e3 + FUSION_HEAT
"""[J/kg] at 0 C; at -40 C it is 0.14 % more (Murphy & Koop 2005, eq. 5)."""


@compiled
def _ln_over_water(temperature: float) -> float:
    t = temperature
    poly = t * (-4.8640239e-2 + t * (4.1764768e-5 - t * 1.4452093e-8))
    return -5.8002206e3 / t + 1.3914993 + poly + 6.5459673 * log(t)


@compiled
def _ln_over_ice(temperature: float) -> float:
    t = temperature
    poly = t * (-9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 - t * 9.484024e-13)))
    return -5.6745359e3 / t + 6.3925247 + poly + 4.1635019 * log(t)


@compiled
def _slope_over_water(temperature: float) -> float:
    t = temperature
    poly = -4.8640239e-2 + t * (2 * 4.1764768e-5 - t * 3 * 1.4452093e-8)
    return (5.8002206e3 / t + 6.5459673) / t + poly


@compiled
def _slope_over_ice(temperature: float) -> float:
    t = temperature
    poly = t * (2 * 6.2215701e-7 + t * (3 * 2.0747825e-9 - t * 4 * 9.484024e-13))
    return (5.6745359e3 / t + 4.1635019) / t - 9.677843e-3 + poly


@compiled
def saturation_over_water(temperature: float) -> float:
    """Vapor pressure [Pa] over liquid water at a temperature [K].

    Hyland & Wexler (1983), ASHRAE Fundamentals 2017 ch. 1 eq. 6, 273 to 473 K; below 273 K
    (supercooled water) its extrapolation, above Murphy & Koop (2005) by 0.3 % at -30 C, 0.8 % at
    -40 C and 2.1 % at -50 C.

    >>> round(saturation_over_water(293.15), 1)
    2338.8
    """
    return exp(_ln_over_water(temperature))


@compiled
def saturation_over_ice(temperature: float) -> float:
    """Vapor pressure [Pa] over ice at a temperature [K].

    Hyland & Wexler (1983), ASHRAE Fundamentals 2017 ch. 1 eq. 5, 173 to 273 K.

    >>> round(saturation_over_ice(253.15), 2)
    103.26
    """
    return exp(_ln_over_ice(temperature))


@compiled
def saturation(temperature: float) -> tuple[float, float]:
    """Vapor pressure [Pa] over the phase that is stable at a temperature [K], and its slope [Pa/K].

    Ice below the triple point, water above it, where the two curves meet within 0.01 %.
    """
    if temperature < TRIPLE_POINT:
        over_ice = exp(_ln_over_ice(temperature))
        return over_ice, over_ice * _slope_over_ice(temperature)
    over_water = exp(_ln_over_water(temperature))
    return over_water, over_water * _slope_over_water(temperature)


@compiled
def dew_point(vapor_pressure: float) -> float:
    """Temperature [K] at which liquid water is in equilibrium with a vapor pressure [Pa].

    Inverse of `saturation_over_water` by Newton's rule on its logarithm, to 1e-6 K; under
    0.001 Pa the dew point of 0.001 Pa.

    >>> round(dew_point(1000.0) - 273.15, 2)
    6.97
    """
    target = log(max(vapor_pressure, 1e-3))
    t = 5420.0 / (26.3 - target)
    for _ in range(6):
        t -= (_ln_over_water(t) - target) / _slope_over_water(t)
    return t


@compiled
def frost_point(vapor_pressure: float) -> float:
    """Temperature [K] at which ice is in equilibrium with a vapor pressure [Pa].

    Inverse of `saturation_over_ice`, as `dew_point`; meaningful up to 611.66 Pa, above which
    ice does not last.

    >>> round(frost_point(103.26) - 273.15, 2)
    -20.0
    """
    target = log(max(vapor_pressure, 1e-3))
    t = 6140.0 / (28.9 - target)
    for _ in range(6):
        t -= (_ln_over_ice(t) - target) / _slope_over_ice(t)
    return t


@compiled
def humidity_ratio(vapor_pressure: float, pressure: float) -> float:
    """Water per dry air [kg/kg] (ASHRAE Fundamentals 2017, ch. 1 eq. 20).

    >>> round(humidity_ratio(1000.0, 101325.0), 5)
    0.0062
    """
    return MASS_RATIO * vapor_pressure / (pressure - vapor_pressure)


@compiled
def vapor_density(vapor_pressure: float, temperature: float) -> float:
    """Water in air [kg/m3] as an ideal gas.

    >>> round(vapor_density(1000.0, 293.15) * 1e3, 2)
    7.39
    """
    return vapor_pressure / (GAS_CONSTANT_VAPOR * temperature)


@compiled
def vaporization_heat(temperature: float) -> float:
    """Latent heat of water [J/kg] at a temperature [K].

    Line fitted to the IAPWS-95 equation between 0 and 50 C, within 0.02 %.

    >>> round(vaporization_heat(293.15) / 1e3, 1)
    2453.5
    """
    return 2500.99e3 - 2376.2 * (temperature - 273.15)
