"""Burner orifices against printed tables, nozzles against a library and closed forms."""

import csv
import math
from pathlib import Path

import fluids
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import orifice
from coldsoak.physics.pipe import density, gas_at

INCH, FOOT, HOUR, INCH_OF_WATER = 0.0254, 0.3048, 3600.0, 249.082
GAS = gas_at(288.7, np.array([0.0, 1.0, 0.0, 0.0, 0.0]))


def rows(name):
    lines = (Path(__file__).parent / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("height", [10, 11])
@pytest.mark.parametrize(
    "row", rows("orifice_propane.csv"), ids=lambda row: f"drill {row['drill']}"
)
def test_the_printed_orifice_table_is_repeated(row, height):
    area = math.pi / 4 * (float(row["diameter_in"]) * INCH) ** 2
    flow = orifice.code_orifice_flow(
        area, height * INCH_OF_WATER, orifice.CODE_DISCHARGE, orifice.CODE_GRAVITY
    )
    printed = float(row[f"propane_at_{height}inwc_ft3_per_h"])
    # the issue asks for 0.5 %; printed to three decimals
    assert flow / FOOT**3 * HOUR == pytest.approx(printed, rel=0.005)


@pytest.mark.parametrize("height", [4.0, 11.0, 14.0])
def test_bernoulli_and_the_code_s_formula_agree(height):
    area, standard = 1e-6, 101_325.0
    pressure = height * INCH_OF_WATER
    mass = orifice.orifice_flow(area, 0.9, density(GAS, standard), pressure)
    gravity = density(GAS, standard) / 1.2228  # dry air at 60 F and one atmosphere
    volume = orifice.code_orifice_flow(area, pressure, 0.9, gravity)
    # 1658.5 stands for air of 0.0765 lb/ft3 (1.2254 kg/m3); the rest is rounding
    assert mass / density(GAS, standard) == pytest.approx(volume, rel=0.005)


@pytest.mark.parametrize("inlet", [2e5, 5e5, 1e6])
def test_a_choked_nozzle_passes_what_the_relief_valve_standard_says(inlet):
    ours = orifice.nozzle_flux(density(GAS, inlet), inlet, 101_325.0)
    z = GAS.ideal * inlet / density(GAS, inlet)
    theirs = fluids.API520_A_g(
        m=1.0,
        T=288.7,
        Z=z,
        MW=44.096,
        k=orifice.ISENTROPIC_EXPONENT,
        P1=inlet,
        P2=101_325.0,
        Kd=1.0,
    )
    # the standard's constant for C is rounded
    assert ours == pytest.approx(1.0 / theirs, rel=1e-3)


@given(st.floats(1.02e5, 2e6))
def test_a_nozzle_with_little_drop_follows_bernoulli(inlet):
    drop = 1e-3 * inlet
    ours = orifice.nozzle_flux(density(GAS, inlet), inlet, inlet - drop)
    # the expansion takes off 0.75/k times the relative drop
    assert ours == pytest.approx(math.sqrt(2.0 * density(GAS, inlet) * drop), rel=1e-3)


@given(st.floats(1.05e5, 2e6), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_lower_outlet_never_passes_less(inlet, one, other):
    low, high = sorted((one, other))
    passes = [orifice.nozzle_flux(density(GAS, inlet), inlet, k * inlet) for k in (low, high)]
    assert passes[0] >= passes[1]


def test_gas_does_not_flow_uphill():
    assert orifice.nozzle_flux(2.0, 1e5, 1.1e5) == 0.0
    assert orifice.orifice_flow(1e-6, 0.9, 2.0, -5.0) == 0.0
