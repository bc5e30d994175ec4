"""Gas shut in: the ideal gas law, written for manometers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics.closedvolume import (
    Shut,
    escaping,
    explained_gauge,
    temperature_doubt,
    unexplained_change,
    warming_that_explains,
)

INH2O = 249.082
GAS_CONSTANT = 8.314462618  # CODATA 2018

gauges = st.floats(0.0, 2e4)
kelvins = st.floats(230.0, 320.0)
stations = st.floats(6e4, 1.05e5)
moments = st.builds(Shut, gauges, kelvins, stations)


def test_one_kelvin_moves_eight_inches_of_water_by_one_and_a_half():
    before = Shut(8 * INH2O, 288.15, 101_325.0)
    # (2 kPa + 101.3 kPa) / 288 K = 0.36 kPa/K
    assert explained_gauge(before, 289.15, 101_325.0) / INH2O == pytest.approx(9.44, abs=0.01)


@given(moments, kelvins, stations)
def test_what_temperature_and_air_pressure_do_is_explained(before, temperature, station):
    after = Shut(explained_gauge(before, temperature, station), temperature, station)
    assert unexplained_change(before, after) == pytest.approx(0.0, abs=1e-6)


@given(moments, st.floats(-2e3, 2e3), kelvins)
def test_a_loss_on_top_of_any_warming_is_what_is_left(before, loss, temperature):
    gauge = explained_gauge(before, temperature, before.station) - loss
    after = Shut(gauge, temperature, before.station)
    assert unexplained_change(before, after) == pytest.approx(-loss, abs=1e-6)


@given(moments, st.floats(-20.0, 20.0))
def test_the_warming_that_explains_a_reading_is_the_one_that_made_it(before, warming):
    gauge = explained_gauge(before, before.temperature + warming, before.station)
    assert warming_that_explains(before, gauge) == pytest.approx(warming, abs=1e-9)
    assert temperature_doubt(before, warming) == pytest.approx(gauge - before.gauge, abs=1e-6)


@given(st.floats(1e-4, 1.0), st.floats(10.0, 1e3), st.floats(60.0, 3600.0), kelvins)
def test_what_escapes_is_what_the_gas_law_misses(volume, loss, seconds, temperature):
    moles = loss * volume / (GAS_CONSTANT * temperature)
    assert escaping(volume, -loss, seconds, temperature) == pytest.approx(moles / seconds)


def test_a_falling_barometer_raises_a_gauge():
    before = Shut(2000.0, 288.15, 101_325.0)
    assert explained_gauge(before, 288.15, 101_225.0) == pytest.approx(2100.0)
