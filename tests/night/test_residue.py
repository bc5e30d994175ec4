"""What stays behind in the cold, against Rayleigh's own integral and what everyone knows."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from nights import BUTANE, HALF, LEAN, PROPANE, WITH_ETHANE, celsius, moles

from coldsoak.night.records import Floats
from coldsoak.night.residue import CUTS, residue
from coldsoak.physics.fuel import (
    MOLAR_MASS,
    N_COMPONENTS,
    bubble_pressure,
    bubble_temperature,
)

NEED = 101325.0 + 34.5e3
"""Absolute pressure that a regulator needs at sea level [Pa]."""

CUT = 1.0 / CUTS
"""The residue is found to one of its cuts: this part of the contents."""


def rayleigh(temperature: float, least: float, amounts: Floats) -> float:
    """Mass that stays [kg], by d ln n_k / d ln N = K_k in small steps of ln N (Rayleigh 1902).

    Written apart from the code: relative volatilities and midpoint steps instead of equal cuts.
    """
    left, vapor = amounts.copy(), np.zeros(N_COMPONENTS)

    def volatilities(of: Floats) -> tuple[Floats, float]:
        liquid = of / of.sum()
        pressure = bubble_pressure(temperature, liquid, vapor)
        ratio = np.divide(vapor, liquid, out=np.zeros(N_COMPONENTS), where=liquid > 0)
        return ratio, pressure

    step = 1e-3
    while left.sum() > 1e-4 * amounts.sum():
        ratio, pressure = volatilities(left)
        if pressure < least:
            return float(left @ MOLAR_MASS)
        middle = left * np.exp(-0.5 * step * ratio)
        left = left * np.exp(-step * volatilities(middle)[0])
    return 0.0


@pytest.mark.parametrize("blend", [LEAN, HALF, WITH_ETHANE, (0.0, 0.2, 0.0, 0.7, 0.1)])
@pytest.mark.parametrize("degrees", [-25.0, -15.0, -5.0, 5.0, 15.0])
def test_the_residue_is_that_of_rayleigh(blend: tuple[float, ...], degrees: float) -> None:
    amounts = moles(8.4, blend)
    found = residue(celsius(degrees), NEED, amounts)
    # Two cuts: equal cuts run a little behind, and end on a cut.
    assert found == pytest.approx(rayleigh(celsius(degrees), NEED, amounts), abs=2 * CUT * 8.4)


@pytest.mark.parametrize("blend", [PROPANE, BUTANE])
def test_one_fuel_alone_leaves_all_or_nothing(blend: tuple[float, ...]) -> None:
    limit = bubble_temperature(NEED, np.array(blend))
    amounts = moles(8.4, blend)
    assert residue(limit - 0.1, NEED, amounts) == pytest.approx(8.4, rel=1e-12)
    assert residue(limit + 0.1, NEED, amounts) == 0.0


def test_propane_leaves_nothing_down_to_its_limit_and_butane_all_in_frost() -> None:
    # At 136 kPa absolute propane boils at -35.2 degC and n-butane at 7.6 degC (CoolProp 8).
    assert residue(celsius(-35.0), NEED, moles(1.0, PROPANE)) == 0.0
    assert residue(celsius(-35.4), NEED, moles(1.0, PROPANE)) == pytest.approx(1.0, rel=1e-12)
    assert residue(celsius(7.8), NEED, moles(1.0, BUTANE)) == 0.0
    assert residue(celsius(7.4), NEED, moles(1.0, BUTANE)) == pytest.approx(1.0, rel=1e-12)


@settings(max_examples=50)
@given(st.floats(0.05, 0.9), st.floats(0.01, 0.09), st.floats(-30.0, 5.0))
def test_a_heavier_blend_leaves_more(butane: float, more: float, degrees: float) -> None:
    light = residue(celsius(degrees), NEED, moles(1.0, (0, 1 - butane, 0, 0, butane)))
    heavy = residue(celsius(degrees), NEED, moles(1.0, (0, 1 - butane - more, 0, 0, butane + more)))
    assert heavy >= light - CUT


@settings(max_examples=50)
@given(st.floats(0.05, 0.9), st.floats(-30.0, 5.0), st.floats(0.1, 10.0))
def test_colder_air_leaves_more(butane: float, degrees: float, colder: float) -> None:
    amounts = moles(1.0, (0, 1 - butane, 0, 0, butane))
    warm = residue(celsius(degrees), NEED, amounts)
    assert residue(celsius(degrees - colder), NEED, amounts) >= warm - CUT


@settings(max_examples=50)
@given(st.floats(0.05, 0.9), st.floats(-30.0, 15.0))
def test_there_is_never_more_left_than_there_was(butane: float, degrees: float) -> None:
    left = residue(celsius(degrees), NEED, moles(1.0, (0, 1 - butane, 0, 0, butane)))
    assert 0.0 <= left <= 1.0 + 1e-12


def test_a_residue_is_all_residue() -> None:
    """What stayed at one temperature stays again."""
    first = residue(celsius(-10.0), NEED, moles(8.4, HALF))
    assert 0.3 * 8.4 < first < 0.9 * 8.4
    assert residue(celsius(-10.0), 2.0 * NEED, moles(8.4, HALF)) > first


def test_a_last_trace_counts_for_nothing() -> None:
    assert residue(celsius(20.0), NEED, moles(1e-6, HALF)) < 1e-8
