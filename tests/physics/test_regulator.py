"""What a regulator stage does: droop with flow and inlet, lift, capacity, and its inverse."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import regulator
from coldsoak.physics.pipe import gas_at
from coldsoak.physics.regulator import Stage

GAS = gas_at(288.7, np.array([0.0, 1.0, 0.0, 0.0, 0.0]))
STATION = 101_325.0
WATER = 249.082
CAPACITY = 46.9e3 / 50.33e6  # 160,000 Btu/h of propane
RATED_INLET = STATION + 34.5e3
SET, DROOP = 11.0 * WATER, 1.5 * WATER
SEAT = regulator.seat_area(GAS, CAPACITY, RATED_INLET, STATION + SET - DROOP)
STAGE = Stage(SET, DROOP, SEAT, 0.0, 0.0)

flows = st.floats(1e-6, CAPACITY)
inlets = st.floats(RATED_INLET, 1.5e6)


def outlet(inlet, flow, stage=STAGE):
    """Gauge pressure at the outlet [Pa]."""
    return regulator.outlet_pressure(GAS, stage, STATION, inlet, flow) - STATION


def test_it_is_wide_open_at_its_capacity_and_rated_inlet():
    # bisected to 0.01 Pa
    assert outlet(RATED_INLET, CAPACITY) == pytest.approx(SET - DROOP, abs=0.05)


def test_a_trickle_leaves_its_setting():
    assert outlet(RATED_INLET, 1e-9) == pytest.approx(SET, abs=0.05)


def test_a_warm_cylinder_makes_it_droop_less():
    assert outlet(8e5, CAPACITY) > outlet(RATED_INLET, CAPACITY) + 0.5 * DROOP


def test_a_choked_seat_passes_in_proportion_to_the_inlet_pressure():
    # a little more than in proportion, because dense propane is heavier than an ideal gas
    droops = [SET - outlet(inlet, CAPACITY) for inlet in (3e5, 6e5)]
    assert droops[0] / droops[1] == pytest.approx(2.0, rel=0.05)


def test_beyond_its_capacity_the_outlet_collapses():
    assert outlet(RATED_INLET, 1.05 * CAPACITY) < SET - 2.0 * DROOP
    assert regulator.outlet_pressure(GAS, STAGE, STATION, RATED_INLET, 3.0 * CAPACITY) == 0.0


def test_the_inlet_pushes_the_seat_open():
    stage = STAGE._replace(inlet_effect=2e-4, reference=690e3)
    warm, cold = (outlet(STATION + gauge, 1e-9, stage) for gauge in (690e3, 34.5e3))
    assert warm - cold == pytest.approx(2e-4 * (690e3 - 34.5e3), abs=0.05)


@given(inlets, flows, flows)
def test_more_flow_never_raises_the_outlet(inlet, one, other):
    little, more = sorted((one, other))
    assert outlet(inlet, more) <= outlet(inlet, little) + 0.02


@given(inlets, inlets, flows)
def test_more_inlet_pressure_never_lowers_the_outlet(one, other, flow):
    low, high = sorted((one, other))
    assert outlet(low, flow) <= outlet(high, flow) + 0.02


@given(flows, st.floats(0.0, 0.95), st.sampled_from([0.0, 2e-4]))
def test_the_least_inlet_gives_the_outlet_that_was_asked_for(flow, share, effect):
    stage = STAGE._replace(inlet_effect=effect, reference=690e3)
    wanted = STATION + SET - share * DROOP - effect * 500e3
    least = regulator.least_inlet(GAS, stage, STATION, wanted, flow)
    if math.isfinite(least):
        # half a pascal of inlet moves the outlet by far less
        assert outlet(least + 0.5, flow, stage) >= wanted - STATION - 0.05
        if least > wanted + 1.0:
            assert outlet(least - 1.0, flow, stage) < wanted - STATION


def test_no_inlet_gives_more_than_the_setting():
    assert regulator.least_inlet(GAS, STAGE, STATION, STATION + SET + 1.0, 1e-6) == math.inf


def test_no_inlet_feeds_a_flow_beyond_the_seat():
    assert regulator.least_inlet(GAS, STAGE, STATION, STATION + 0.9 * SET, 0.1) == math.inf


def test_a_stage_without_limit_needs_no_more_than_it_gives():
    ideal = STAGE._replace(seat=math.inf)
    assert regulator.least_inlet(GAS, ideal, STATION, STATION + 2000.0, 1.0) == STATION + 2000.0
    assert outlet(2e5, 1.0, ideal) == pytest.approx(SET)


def test_a_stage_fitted_backward_passes_nothing():
    shut = STAGE._replace(seat=0.0)
    assert regulator.outlet_pressure(GAS, shut, STATION, 8e5, 1e-5) == 0.0
    assert regulator.least_inlet(GAS, shut, STATION, STATION + 2000.0, 1e-5) == math.inf


def test_a_second_regulator_behind_a_regulated_outlet_passes_a_fraction():
    # 11 inH2O instead of 5 psi before the same seat, and 4 inH2O left behind it
    inlet, behind = STATION + 11.0 * WATER, STATION + 4.0 * WATER
    assert regulator.outlet_pressure(GAS, STAGE, STATION, inlet, CAPACITY) == 0.0
    assert regulator.least_inlet(GAS, STAGE, STATION, behind, 0.2 * CAPACITY) < inlet
    assert regulator.least_inlet(GAS, STAGE, STATION, behind, 0.4 * CAPACITY) > inlet
