"""Weather that stays the same."""

from types import SimpleNamespace

import numpy as np
import pytest

from coldsoak.errors import WeatherError
from coldsoak.weather.humidity import vapor_at_dew_point


def still(**changes):
    given = {"temperature": 253.15, "wind": 1.0, "humidity": 0.7, "sky": "overcast"} | changes
    return SimpleNamespace(**given)


def test_nothing_changes_but_the_sun(read):
    table = read(still(), hours=64)
    for values in (table.air, table.wind, table.vapor_pressure, table.sky, table.station_pressure):
        assert np.ptp(values) == 0.0
    assert table.seconds[-1] == 64 * 3600.0
    assert np.degrees(table.sun_elevation.max()) == pytest.approx(22.5, abs=1.0)  # 90 - 46.9 - 20.6
    assert table.wind_at_cylinder


def test_no_sun_is_counted_and_the_note_says_so(read):
    table = read(still())
    assert (table.beam == 0.0).all()
    assert (table.diffuse == 0.0).all()
    assert any("none is counted" in note for note in table.notes)


def test_humidity_is_over_liquid_water(read):
    assert read(still()).vapor_pressure[0] == pytest.approx(
        0.7 * vapor_at_dew_point(np.array([253.15]))[0]
    )


def test_an_overcast_sky_is_warmer_than_half_a_sky_and_that_than_a_clear_one(read):
    clear, half, overcast = (read(still(sky=sky)).sky[0] for sky in ("clear", 0.5, "overcast"))
    assert clear < half < overcast < 253.15


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"temperature": 190.0}, "weather.temperature: -83.1 degC; allowed is -70 to 60 degC"),
        ({"temperature": float("nan")}, "allowed is -70 to 60 degC"),
        ({"wind": -1.0}, "weather.wind: -1"),
        ({"humidity": 1.2}, "weather.humidity: 1.2"),
        ({"sky": "starry"}, 'weather.sky: "starry"'),
        ({"sky": 2.0}, "weather.sky: 2"),
    ],
)
def test_values_beyond_belief_are_refused(read, change, message):
    with pytest.raises(WeatherError) as caught:
        read(still(**change))
    assert message in str(caught.value)
