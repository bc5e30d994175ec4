"""What the sky gives and takes: its temperature, its pressure, and the sun on simple bodies."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = float | Array

STEFAN_BOLTZMANN = 5.670374419e-8
"""[W/(m2 K4)], CODATA 2018, exact."""

BARE_GROUND_ALBEDO = 0.2
"""Share of the sunlight that ground without snow sends back: common practice since
Liu & Jordan (1963), The long-term average performance of flat-plate solar-energy
collectors, Solar Energy 7, 53-74."""

SNOW_ALBEDO = 0.65
"""The same for snow that has lain some days; the value pvlib.albedo tabulates for snow."""


def clear_sky_emissivity(air: Values, vapor_pressure: Values) -> Array:
    """Emissivity of a cloudless sky, referred to the air temperature near the ground.

    Parameters
    ----------
    air : air temperature [K], 233 to 313
    vapor_pressure : partial pressure of water vapor near the ground [Pa]

    Source: Prata (1996), A new long-wave formula for estimating downward clear-sky
    radiation at the surface, Q. J. R. Meteorol. Soc. 122, 1127-1151:
    e = 1 - (1 + w) exp(-sqrt(1.2 + 3 w)), with w = 46.5 e/T (e in hPa) the precipitable
    water in g/cm2. Chosen because it stays physical in dry, cold air (0.666 without any
    vapor), where the quadratic in the dew point of Berdahl & Martin (1984) has left its
    data (-13 to 24 C). Valley inversions and polar nights measure higher (Koenig-Langlo &
    Augstein 1994: 0.765), so this errs to the cold side. Dilley & O'Brien (1998) agree within
    0.025 below 10 C in humid air.

    >>> print(f"{clear_sky_emissivity(253.15, 90.0):.3f}")
    0.683
    """
    water = 0.465 * np.asarray(vapor_pressure, dtype=np.float64) / np.asarray(air)
    return np.asarray(1.0 - (1.0 + water) * np.exp(-np.sqrt(1.2 + 3.0 * water)))


def sky_temperature(air: Values, vapor_pressure: Values, cloud: Values) -> Array:
    """Temperature [K] of the black hemisphere that sends down as much infrared as the sky.

    Parameters
    ----------
    air : air temperature [K], 233 to 313
    vapor_pressure : partial pressure of water vapor near the ground [Pa]
    cloud : share of the sky that is covered, 0 to 1

    Source: clear sky after Prata (1996); clouds after Unsworth & Monteith (1975), Long-wave
    radiation at the ground, Q. J. R. Meteorol. Soc. 101, 13-24:
    e = (1 - 0.84 c) e_clear + 0.84 c.

    >>> print(f"{sky_temperature(253.15, 90.0, 0.0):.1f}")
    230.1
    >>> print(f"{sky_temperature(253.15, 90.0, 1.0):.1f}")
    249.9
    """
    covered = 0.84 * np.asarray(cloud, dtype=np.float64)
    emissivity = (1.0 - covered) * clear_sky_emissivity(air, vapor_pressure) + covered
    return np.asarray(air * emissivity**0.25)


def sky_temperature_of_infrared(infrared: Values) -> Array:
    """Temperature [K] of the sky from the measured infrared on a level surface.

    Parameters
    ----------
    infrared : horizontal downward long-wave irradiance [W/m2], above 0

    Source: Stefan-Boltzmann law.

    >>> print(f"{sky_temperature_of_infrared(200.0):.2f}")
    243.70
    """
    return np.asarray((np.asarray(infrared, dtype=np.float64) / STEFAN_BOLTZMANN) ** 0.25)


def station_pressure(elevation: Values) -> Array:
    """Pressure [Pa] of the standard atmosphere at an elevation.

    Parameters
    ----------
    elevation : above sea level [m], -500 to 11000

    Source: ICAO/ISO 2533:1975 standard atmosphere, troposphere (288.15 K and 101325 Pa at sea
    level, 6.5 K/km, exponent 9.80665 * 0.0289644 / (8.31432 * 0.0065) = 5.25588).
    Weather moves the true pressure by some 3 %.

    >>> print(f"{station_pressure(1450.0):.0f}")
    85076
    """
    warmth = 1.0 - 0.0065 * np.asarray(elevation, dtype=np.float64) / 288.15
    return np.asarray(101325.0 * warmth**5.25588)


def ambient_irradiance(diffuse: Values, global_: Values, albedo: float) -> Array:
    """Mean [W/m2] over a closed convex body, or over an upright plane, of all but the beam.

    The mean view factor from any closed convex body to an even sky is exactly 1/2 (the
    integral of the surface normal over a closed surface is zero), and 1/2 to the ground.

    Parameters
    ----------
    diffuse : diffuse irradiance on a level surface [W/m2], taken as even over the sky
        (Liu & Jordan 1963)
    global_ : beam and diffuse irradiance on a level surface [W/m2]
    albedo : share that the ground sends back, evenly, 0 to 1
    """
    return np.asarray(0.5 * np.asarray(diffuse) + 0.5 * albedo * np.asarray(global_))


def upright_cylinder_irradiance(
    beam: Values,
    diffuse: Values,
    global_: Values,
    elevation: Values,
    albedo: float,
    slenderness: float,
) -> Array:
    """Mean irradiance [W/m2] over the whole surface of an upright cylinder, ends included.

    The beam falls on the projected area D H cos(a) + pi D^2 sin(a) / 4 of the surface
    pi D H + pi D^2 / 2 (a the sun's elevation). The bottom counts as surface: it takes part
    in the wall's mean although little reaches it.

    Parameters
    ----------
    beam : irradiance normal to the beam [W/m2]; counts only with the sun above the horizon
    diffuse, global_ : irradiance on a level surface [W/m2]
    elevation : of the sun [rad]
    albedo : of the ground, 0 to 1
    slenderness : height / diameter, above 0

    Source: geometry of the flat-ended cylinder; even sky and ground (Liu & Jordan 1963).

    >>> print(f"{upright_cylinder_irradiance(800.0, 60.0, 198.9, 0.1745, 0.65, 1.5):.0f}")
    300
    """
    height_term = slenderness * np.cos(elevation) + 0.25 * np.pi * np.sin(elevation)
    share = height_term / (np.pi * slenderness + 0.5 * np.pi)
    direct = np.where(np.asarray(elevation) > 0.0, beam * share, 0.0)
    return np.asarray(direct + ambient_irradiance(diffuse, global_, albedo))


def horizontal_cylinder_irradiance(
    beam: Values,
    diffuse: Values,
    global_: Values,
    elevation: Values,
    albedo: float,
    slenderness: float,
) -> Array:
    """Mean irradiance [W/m2] over a lying cylinder, averaged over the way its axis points.

    With g the angle between sun and axis the beam falls on D L sin(g) + pi D^2 |cos(g)| / 4;
    over all azimuths of the axis sin(g) averages to (2/pi) E(cos^2 a), E the complete elliptic
    integral of the second kind, and |cos(g)| to (2/pi) cos(a), a the sun's elevation.

    Parameters
    ----------
    beam : irradiance normal to the beam [W/m2]; counts only with the sun above the horizon
    diffuse, global_ : irradiance on a level surface [W/m2]
    elevation : of the sun [rad]
    albedo : of the ground, 0 to 1
    slenderness : length / diameter, above 0

    Source: geometry of the flat-ended cylinder; even sky and ground (Liu & Jordan 1963).
    """
    side = slenderness * elliptic_e(np.cos(elevation) ** 2) + 0.25 * np.pi * np.cos(elevation)
    share = (2.0 / np.pi) * side / (np.pi * slenderness + 0.5 * np.pi)
    direct = np.where(np.asarray(elevation) > 0.0, beam * share, 0.0)
    return np.asarray(direct + ambient_irradiance(diffuse, global_, albedo))


def window_irradiance(
    beam: Values, diffuse: Values, global_: Values, elevation: Values, albedo: float
) -> Array:
    """Irradiance [W/m2] on upright windows, averaged over all directions they may face.

    The beam on an upright plane averages to cos(a) / pi, a the sun's elevation: half of the
    directions are in shade.

    Parameters
    ----------
    beam : irradiance normal to the beam [W/m2]; counts only with the sun above the horizon
    diffuse, global_ : irradiance on a level surface [W/m2]
    elevation : of the sun [rad]
    albedo : of the ground, 0 to 1

    Source: geometry; even sky and ground (Liu & Jordan 1963).
    """
    direct = np.where(np.asarray(elevation) > 0.0, beam * np.cos(elevation) / np.pi, 0.0)
    return np.asarray(direct + ambient_irradiance(diffuse, global_, albedo))


def elliptic_e(m: Values) -> Array:
    """Complete elliptic integral of the second kind of the parameter m, 0 to 1.

    Source: Abramowitz & Stegun (1964), Handbook of Mathematical Functions, eq. 17.3.36;
    error below 2e-8.
    """
    rest = np.maximum(1.0 - np.asarray(m, dtype=np.float64), 1e-300)
    smooth = (0.01736506451, 0.04757383546, 0.06260601220, 0.44325141463, 1.0)
    logarithmic = (0.00526449639, 0.04069697526, 0.09200180037, 0.24998368310, 0.0)
    return np.asarray(np.polyval(smooth, rest) - np.polyval(logarithmic, rest) * np.log(rest))
