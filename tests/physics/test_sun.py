"""Where the sun stands, against pvlib's full algorithm and the almanac's equinox."""

import numpy as np
import pandas as pd
import pvlib
import pytest

from coldsoak.physics.sun import daylight, sun_position

PLACES = [(46.9, -113.4), (69.6, 18.9), (-54.8, -68.3), (1.3, 103.8)]
MOMENTS = pd.date_range("2024-01-01", "2030-12-31", freq="37h", tz="UTC")
DAYS = np.asarray(MOMENTS.to_julian_date()) - 2451545.0


@pytest.mark.parametrize(("latitude", "longitude"), PLACES)
def test_sun_is_where_the_solar_position_algorithm_puts_it(latitude, longitude):
    """pvlib's NREL SPA (Reda & Andreas 2004, 0.0003 degree) is the reference.

    0.015 degree: the 0.01 degree that Michalsky (1988) states, and parallax (0.0024 degree).
    Azimuths are compared away from the zenith, where they mean nothing.
    """
    known = pvlib.solarposition.spa_python(MOMENTS, latitude, longitude)
    elevation, azimuth = sun_position(DAYS, latitude, longitude)
    assert np.degrees(elevation) == pytest.approx(known["elevation"].to_numpy(), abs=0.015)
    off = (np.degrees(azimuth) - known["azimuth"].to_numpy() + 180.0) % 360.0 - 180.0
    assert np.abs(off * np.cos(elevation)).max() < 0.015


@pytest.mark.parametrize(("latitude", "longitude"), [PLACES[0], PLACES[2], PLACES[3]])
def test_sunrise_and_sunset_are_those_of_the_solar_position_algorithm(latitude, longitude):
    """Within 2 minutes: the sun's declination is taken at noon, not at the horizon."""
    dates = pd.date_range("2026-01-01", "2026-12-31", freq="9D", tz="UTC") + pd.Timedelta(hours=12)
    dates = dates - pd.Timedelta(hours=longitude / 15.0)
    known = pvlib.solarposition.sun_rise_set_transit_spa(dates, latitude, longitude)
    noon, share = daylight(np.asarray(dates.to_julian_date()) - 2451545.0, latitude, longitude)
    for name, days in (("sunrise", noon - 0.5 * share), ("sunset", noon + 0.5 * share)):
        theirs = np.asarray(pd.DatetimeIndex(known[name]).to_julian_date()) - 2451545.0
        apart = (days - theirs + 0.5) % 1.0 - 0.5
        assert np.abs(apart).max() * 1440.0 < 2.0


def test_the_polar_night_has_no_light_and_the_polar_day_no_dark():
    midwinter, midsummer = 9130.0 + 20.0, 9130.0 + 202.0  # 2025-01-19 and 2025-07-20
    assert daylight(midwinter, 78.2, 15.6)[1] == 0.0
    assert daylight(midsummer, 78.2, 15.6)[1] == 1.0
