"""Fits of dry air against the reference equations they were fitted to, and a textbook's table."""

import csv
from pathlib import Path

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import air

COLD_TO_WARM = np.linspace(190.0, 340.0, 16)
FIT = 1e-4
"""Stated error of the fits."""


def rows(name):
    lines = (Path(__file__).parent / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def of_air(quantity, temperature, pressure=101325.0):
    return PropsSI(quantity, "T", temperature, "P", pressure, "Air")


@pytest.mark.parametrize("temperature", COLD_TO_WARM)
def test_conductivity_and_viscosity_follow_lemmon_and_jacobsen(temperature):
    assert air.conductivity(temperature) == pytest.approx(of_air("L", temperature), rel=FIT)
    assert air.viscosity(temperature) == pytest.approx(of_air("V", temperature), rel=FIT)


@pytest.mark.parametrize("temperature", COLD_TO_WARM)
@pytest.mark.parametrize("pressure", [60e3, 80e3, 110e3])
def test_conductivity_and_viscosity_hardly_depend_on_pressure(temperature, pressure):
    expected = of_air("L", temperature, pressure), of_air("V", temperature, pressure)
    # 0.15 % as stated
    assert air.conductivity(temperature) == pytest.approx(expected[0], rel=1.5e-3)
    assert air.viscosity(temperature) == pytest.approx(expected[1], rel=1.5e-3)


@pytest.mark.parametrize("temperature", COLD_TO_WARM)
@pytest.mark.parametrize("pressure", [60e3, 101325.0])
def test_density_is_ideal_within_the_stated_error(temperature, pressure):
    expected = of_air("D", temperature, pressure)
    assert air.density(temperature, pressure) == pytest.approx(expected, rel=3e-3)


@pytest.mark.parametrize("temperature", COLD_TO_WARM)
def test_prandtl_number_follows_the_reference(temperature):
    expected = of_air("PRANDTL", temperature)
    # the heat capacity is taken as constant: up to 0.25 % at 340 K, and 0.1 % at 190 K
    assert air.prandtl(temperature) == pytest.approx(expected, rel=3e-3)


@pytest.mark.parametrize("row", rows("air_textbook.csv"), ids=lambda r: r["temperature_K"])
def test_air_is_near_a_textbook_table(row):
    """An older data set, from memory.

    Lemmon & Jacobsen give 2 % for their conductivity (from memory); the table's three digits
    and data add 1 %.
    """
    temperature = float(row["temperature_K"])
    nu = air.viscosity(temperature) / air.density(temperature, 101325.0)
    conductivity = float(row["conductivity_mW_mK"]) * 1e-3
    assert air.conductivity(temperature) == pytest.approx(conductivity, rel=0.03)
    assert nu == pytest.approx(float(row["kinematic_viscosity_mm2_s"]) * 1e-6, rel=0.03)
    assert air.prandtl(temperature) == pytest.approx(float(row["prandtl"]), rel=0.03)


@given(temperature=st.floats(100, 1000))
def test_beyond_the_range_everything_stays_positive(temperature):
    assert air.conductivity(temperature) > 0
    assert air.viscosity(temperature) > 0
