"""Where the sun stands, and when it rises and sets."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = float | Array

DISK_AND_REFRACTION = np.radians(0.833)
"""How far below the horizon [rad] the sun's center is when its upper edge rises or sets
(16' of radius and 34' of refraction: the convention of the almanacs)."""


def equatorial(days: Values) -> tuple[Array, Array]:
    """Right ascension and declination of the sun [rad].

    Parameters
    ----------
    days : time since noon UT of 2000-01-01 (J2000.0) [d]; 1950 to 2050

    Source: Michalsky (1988), The Astronomical Almanac's algorithm for approximate solar
    position, Solar Energy 40, 227-235; 0.01 degree.
    """
    days = np.asarray(days, dtype=np.float64)
    mean_anomaly = np.radians(357.528 + 0.9856003 * days)
    longitude = np.radians(
        280.460
        + 0.9856474 * days
        + 1.915 * np.sin(mean_anomaly)
        + 0.020 * np.sin(2.0 * mean_anomaly)
    )
    obliquity = np.radians(23.439 - 4e-7 * days)
    ascension = np.arctan2(np.cos(obliquity) * np.sin(longitude), np.cos(longitude))
    return ascension, np.arcsin(np.sin(obliquity) * np.sin(longitude))


def hour_angle(days: Values, longitude: float) -> Array:
    """Angle [rad, -pi to pi] through which the sun has turned since it stood highest.

    Parameters
    ----------
    days : time since noon UT of 2000-01-01 [d]
    longitude : degrees, east positive [deg]

    Source: Michalsky (1988), with the sidereal time written in days
    (6.697375 h + 0.0657098242 h/d, and 24 h a day of universal time).
    """
    days = np.asarray(days, dtype=np.float64)
    universal_hours = 24.0 * ((days + 0.5) % 1.0)
    sidereal_hours = 6.697375 + 0.0657098242 * days + universal_hours
    turned = np.radians(15.0 * sidereal_hours + longitude) - equatorial(days)[0]
    return np.asarray((turned + np.pi) % (2.0 * np.pi) - np.pi, dtype=np.float64)


def sun_position(days: Values, latitude: float, longitude: float) -> tuple[Array, Array]:
    """Elevation above the horizon and azimuth from north over east [rad], without refraction.

    Parameters
    ----------
    days : time since noon UT of 2000-01-01 [d]; 1950 to 2050
    latitude, longitude : of the place, north and east positive [deg]

    Source: Michalsky (1988); the azimuth by both its components, which is right at
    every hour and on both hemispheres.

    >>> elevation, azimuth = sun_position(0.0, 51.5, 0.0)      # noon at Greenwich, midwinter
    >>> print(f"{np.degrees(elevation):.1f} {np.degrees(azimuth):.0f}")
    15.5 179
    """
    _, declination = equatorial(days)
    angle, north = hour_angle(days, longitude), np.radians(latitude)
    up = np.sin(declination) * np.sin(north)
    up = up + np.cos(declination) * np.cos(north) * np.cos(angle)
    to_east = -np.cos(declination) * np.sin(angle)
    to_north = np.sin(declination) * np.cos(north)
    to_north = to_north - np.cos(declination) * np.sin(north) * np.cos(angle)
    return np.arcsin(np.clip(up, -1.0, 1.0)), np.arctan2(to_east, to_north) % (2.0 * np.pi)


def daylight(days: Values, latitude: float, longitude: float) -> tuple[Array, Array]:
    """Time of the nearest solar noon [d since J2000.0] and length of that day's light [d].

    The light lasts from sunrise to sunset of the upper edge of the disk, 0 in the polar
    night and 1 in the polar day.

    Parameters
    ----------
    days : time since noon UT of 2000-01-01 [d], within half a day of the noon that is meant
    latitude, longitude : of the place, north and east positive [deg]

    Source: the sunrise equation, cos w = (sin h - sin lat sin dec) / (cos lat cos dec);
    sun's place after Michalsky (1988), taken at noon (within 2 minutes below 65 degrees).
    """
    days = np.asarray(days, dtype=np.float64)
    noon = days - hour_angle(days, longitude) / (2.0 * np.pi)
    _, declination = equatorial(noon)
    north = np.radians(np.clip(latitude, -89.9, 89.9))
    cosine = -np.sin(DISK_AND_REFRACTION) - np.sin(north) * np.sin(declination)
    cosine = cosine / (np.cos(north) * np.cos(declination))
    return noon, np.arccos(np.clip(cosine, -1.0, 1.0)) / np.pi
