"""Moist air against an independent library, reference equations and published values."""

import csv
from math import exp, log, tanh
from pathlib import Path

import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import moistair

psychrolib.SetUnitSystem(psychrolib.SI)
COLD_TO_WARM = np.linspace(203.15, 333.15, 27)
OVER_ICE = [t for t in COLD_TO_WARM if t < 273.15]
OVER_WATER = [t for t in COLD_TO_WARM if t > 273.16]


def rows(name):
    lines = (Path(__file__).parent / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def supercooled(temperature):
    """Murphy & Koop (2005), Q. J. R. Meteorol. Soc. 131:1539, eq. 10 (constants from memory)."""
    t = temperature
    bend = 53.878 - 1331.22 / t - 9.44523 * log(t) + 0.014025 * t
    line = 54.842763 - 6763.22 / t - 4.210 * log(t) + 0.000367 * t
    return exp(line + tanh(0.0415 * (t - 218.8)) * bend)


def over_ice_by_murphy_and_koop(temperature):
    """The same paper, eq. 7 (constants from memory)."""
    t = temperature
    return exp(9.550426 - 5723.265 / t + 3.53068 * log(t) - 0.00728332 * t)


@pytest.mark.parametrize("temperature", COLD_TO_WARM)
def test_saturation_is_that_of_the_handbook(temperature):
    """Same equations in psychrolib; it turns C into K, which costs one rounding."""
    ours, _ = moistair.saturation(temperature)
    assert ours == pytest.approx(psychrolib.GetSatVapPres(temperature - 273.15), rel=1e-11)


@pytest.mark.parametrize("row", rows("saturation_water.csv"), ids=lambda r: r["temperature_C"])
def test_saturation_gives_the_printed_table(row):
    ours, _ = moistair.saturation(float(row["temperature_C"]) + 273.15)
    digits = len(row["pressure_kPa"].partition(".")[2])
    assert round(ours / 1e3, digits) == float(row["pressure_kPa"])


@pytest.mark.parametrize("temperature", OVER_WATER)
def test_saturation_over_water_agrees_with_iapws(temperature):
    """Hyland & Wexler and IAPWS-95 differ by less than 0.05 % between 0 and 60 C."""
    expected = PropsSI("P", "T", temperature, "Q", 0, "Water")
    assert moistair.saturation_over_water(temperature) == pytest.approx(expected, rel=5e-4)


@pytest.mark.parametrize("temperature", OVER_ICE)
def test_saturation_over_ice_agrees_with_murphy_and_koop(temperature):
    expected = over_ice_by_murphy_and_koop(temperature)
    assert moistair.saturation_over_ice(temperature) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize(
    ("celsius", "error"), [(-10, 5e-4), (-30, 3e-3), (-40, 8e-3), (-50, 2.1e-2)]
)
def test_saturation_over_supercooled_water_has_the_stated_error(celsius, error):
    """An extrapolation of the handbook's curve: too high, more so in deeper frost."""
    ratio = moistair.saturation_over_water(celsius + 273.15) / supercooled(celsius + 273.15)
    assert 1 < ratio < 1 + error


def test_both_curves_meet_at_the_triple_point():
    ice = moistair.saturation_over_ice(moistair.TRIPLE_POINT)
    assert ice == pytest.approx(611.657, rel=3e-4)  # IAPWS; Hyland & Wexler's is 0.02 % higher
    assert ice == pytest.approx(moistair.saturation_over_water(moistair.TRIPLE_POINT), rel=1e-4)


@given(temperature=st.floats(200, 330))
def test_ice_holds_less_vapor_than_water_below_the_triple_point_and_more_above(temperature):
    if abs(temperature - moistair.TRIPLE_POINT) < 0.05:
        return  # the handbook's curves cross within 0.05 K of it
    ice = moistair.saturation_over_ice(temperature)
    water = moistair.saturation_over_water(temperature)
    assert (ice < water) == (temperature < moistair.TRIPLE_POINT)


@given(temperature=st.floats(200, 330))
def test_slope_is_the_derivative(temperature):
    step = 1e-3
    if abs(temperature - moistair.TRIPLE_POINT) < 2 * step:
        return
    up, down = (moistair.saturation(temperature + s)[0] for s in (step, -step))
    _, slope = moistair.saturation(temperature)
    # central difference over 2 mK: cancellation leaves about 1e-8, curvature 1e-9
    assert slope == pytest.approx((up - down) / (2 * step), rel=1e-6)


@given(temperature=st.floats(190, 340))
def test_dew_and_frost_point_are_inverse_to_saturation(temperature):
    over_water = moistair.saturation_over_water(temperature)
    over_ice = moistair.saturation_over_ice(temperature)
    assert moistair.dew_point(over_water) == pytest.approx(temperature, abs=1e-6)
    assert moistair.frost_point(over_ice) == pytest.approx(temperature, abs=1e-6)


@pytest.mark.parametrize("vapor_pressure", [0.0, -5.0, 1e-9, 1e5])
def test_dew_and_frost_point_stay_finite(vapor_pressure):
    assert np.isfinite(moistair.dew_point(vapor_pressure))
    assert np.isfinite(moistair.frost_point(vapor_pressure))


@pytest.mark.parametrize("vapor_pressure", [20.0, 300.0, 900.0, 2500.0])
def test_dew_point_is_that_of_the_handbook(vapor_pressure):
    expected = psychrolib.GetTDewPointFromVapPres(60.0, vapor_pressure) + 273.15
    point = moistair.frost_point if expected < moistair.TRIPLE_POINT else moistair.dew_point
    assert point(vapor_pressure) == pytest.approx(expected, abs=2e-3)  # its own stop, 1 mK


@pytest.mark.parametrize("vapor_pressure", [20.0, 300.0, 2500.0])
@pytest.mark.parametrize("pressure", [101325.0, 70000.0])
def test_humidity_ratio_is_that_of_the_handbook(vapor_pressure, pressure):
    expected = psychrolib.GetHumRatioFromVapPres(vapor_pressure, pressure)
    assert moistair.humidity_ratio(vapor_pressure, pressure) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("temperature", [258.15, 293.15])
def test_vapor_density_agrees_with_the_reference_gas(temperature):
    """Water vapor at 200 Pa is ideal to 1e-4."""
    expected = PropsSI("D", "T", 293.15, "P", 200.0, "Water") * 293.15 / temperature
    assert moistair.vapor_density(200.0, temperature) == pytest.approx(expected, rel=2e-4)


@pytest.mark.parametrize("temperature", [273.16, 283.15, 293.15, 308.15, 323.15])
def test_vaporization_heat_agrees_with_iapws(temperature):
    liquid, vapor = (PropsSI("H", "T", temperature, "Q", q, "Water") for q in (0, 1))
    expected = pytest.approx(vapor - liquid, rel=2e-4)  # stated error of the line
    assert moistair.vaporization_heat(temperature) == expected


@pytest.mark.parametrize("temperature", [233.15, 253.15, 273.15])
def test_sublimation_heat_hardly_changes_in_frost(temperature):
    """Murphy & Koop (2005) eq. 5, J/mol (constants from memory)."""
    t = temperature
    molar = 46782.5 + 35.8925 * t - 0.07414 * t**2 + 541.5 * exp(-((t / 123.75) ** 2))
    assert pytest.approx(molar / 0.01801528, rel=2e-3) == moistair.SUBLIMATION_HEAT


@given(temperature=st.floats(210, 273))
def test_clausius_and_clapeyron_tie_the_ice_curve_to_its_heat(temperature):
    pressure, slope = moistair.saturation(temperature)
    heat = slope / pressure * moistair.GAS_CONSTANT_VAPOR * temperature**2
    # ideal vapor and no volume of ice: 0.1 %; heat taken as constant: 0.2 %
    assert heat == pytest.approx(moistair.SUBLIMATION_HEAT, rel=4e-3)
