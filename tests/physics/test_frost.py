"""Frost: conductivity against its source in the source's own units, and the Lewis relation."""

import csv
from pathlib import Path

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import frost

FOOT, POUND, BTU_PER_HOUR = 0.3048, 0.45359237, 0.29307107


def rows(name):
    lines = (Path(__file__).parent / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def test_conductivity_is_yonko_and_sepsy_in_their_units():
    """0.014 + 0.00668 r + 0.0001759 r^2 Btu/(h ft F), r in lb/ft3."""
    density = frost.FROST_DENSITY * FOOT**3 / POUND
    conductivity = 0.014 + 0.00668 * density + 0.0001759 * density**2
    to_si = BTU_PER_HOUR / FOOT * 1.8
    # their coefficients carry two to four digits
    assert pytest.approx(conductivity * to_si, rel=2e-3) == frost.FROST_CONDUCTIVITY


@pytest.mark.parametrize("row", rows("frost_conductivity.csv"), ids=lambda r: r["source"])
def test_other_correlations_give_frost_that_conducts_less(row):
    """Frost of one density differs by half with its structure; the docstring says which way."""
    r = frost.FROST_DENSITY
    other = float(row["a"]) + float(row["b"]) * r + float(row["c"]) * r**2
    assert 0.12 < other < frost.FROST_CONDUCTIVITY


def test_lewis_number_is_thermal_over_vapor_diffusivity():
    """Massman (1998): 2.178e-5 m2/s at 0 C and 1 atm, growing with T^1.81 (from memory)."""
    for temperature in (240.0, 273.15, 290.0):
        at = ("T", temperature, "P", 101325.0, "Air")
        thermal = PropsSI("L", *at) / (PropsSI("D", *at) * PropsSI("C", *at))
        vapor = 2.178e-5 * (temperature / 273.15) ** 1.81
        assert pytest.approx(thermal / vapor, rel=0.01) == frost.LEWIS_NUMBER  # as stated


def test_vapor_follows_the_psychrometric_constant():
    """Air at 101.3 kPa: 0.0665 Pa per Pa and K over water (FAO 56 (1998), eq. 8, 0.665e-3 P).

    That constant leaves out Le^(2/3) = 0.904, which makes the moving vapor's heat 1.106 times
    greater.
    """
    heat = 2.45e6 * frost.vapor_rate(1.0, 1.0, 101325.0)
    # FAO rounds its constants to three digits
    assert 1 / heat == pytest.approx(0.665e-3 * 101325 * frost.LEWIS_NUMBER ** (2 / 3), rel=0.01)


@given(mass=st.floats(-1, 5), more=st.floats(0, 5))
def test_more_frost_covers_and_insulates_more(mass, more):
    assert 0 <= frost.covered_share(mass) <= frost.covered_share(mass + more) <= 1
    assert 0 <= frost.frost_resistance(mass) <= frost.frost_resistance(mass + more)


def test_no_frost_covers_nothing():
    assert frost.covered_share(0.0) == 0
    assert frost.frost_resistance(0.0) == 0
