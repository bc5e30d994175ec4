"""The step in time: order three, an honest error, an interpolant through both ends."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.night.records import Floats
from coldsoak.night.step import (
    FIRST,
    LARGEST_GROWTH,
    LAST,
    SECOND,
    SMALLEST_SHRINK,
    STAGES,
    THIRD,
    TRIAL,
    between,
    crossing,
    defect,
    next_step,
    to_end,
    to_second,
    to_third,
)


def falling(seconds: float, value: float) -> float:
    """A law with a known course: y' = -2 t y, y = exp(-t2)."""
    return -2.0 * seconds * value


def step_once(seconds: float, step: float, state: Floats) -> Floats:
    """Stages of one step from ``state``."""
    stages = np.zeros((STAGES, 1))
    stages[FIRST] = falling(seconds, state[0])
    to_second(state, step, stages)
    stages[SECOND] = falling(seconds + 0.5 * step, stages[TRIAL, 0])
    to_third(state, step, stages)
    stages[THIRD] = falling(seconds + 0.75 * step, stages[TRIAL, 0])
    to_end(state, step, stages)
    stages[LAST] = falling(seconds + step, stages[TRIAL, 0])
    return stages


def error_after(steps: int) -> float:
    """Error at t = 1.5 after equal steps from y(0) = 1."""
    state, step = np.ones(1), 1.5 / steps
    for i in range(steps):
        state[:] = step_once(i * step, step, state)[TRIAL]
    return abs(state[0] - math.exp(-2.25))


def test_halving_the_step_cuts_the_error_to_an_eighth() -> None:
    order = math.log2(error_after(80) / error_after(160))
    assert order == pytest.approx(3.0, abs=0.1)


def test_the_error_estimate_is_of_the_second_order_result() -> None:
    """It falls with the third power of the step and is larger than the true error."""
    large, small = (step_once(0.3, step, np.array([math.exp(-0.09)])) for step in (0.02, 0.01))
    ratio = defect(large, 0, 0.02) / defect(small, 0, 0.01)
    assert math.log2(ratio) == pytest.approx(3.0, abs=0.1)
    true = abs(large[TRIAL, 0] - math.exp(-(0.32**2)))
    assert true < defect(large, 0, 0.02)


def test_the_interpolant_passes_both_ends() -> None:
    state = np.array([math.exp(-0.09)])
    stages = step_once(0.3, 0.2, state)
    assert between(state, stages, 0, 0.2, 0.0) == state[0]
    assert between(state, stages, 0, 0.2, 1.0) == pytest.approx(stages[TRIAL, 0], rel=1e-15)


def test_the_interpolant_is_of_third_order_between() -> None:
    def miss(step: float) -> float:
        state = np.array([math.exp(-0.09)])
        stages = step_once(0.3, step, state)
        middle = between(state, stages, 0, step, 0.4)
        return abs(middle - math.exp(-((0.3 + 0.4 * step) ** 2)))

    # Locally one order more than the march as a whole.
    assert math.log2(miss(0.01) / miss(0.005)) == pytest.approx(4.0, abs=0.2)


def test_a_crossing_lies_just_past_its_value() -> None:
    state = np.array([1.0])
    stages = step_once(0.0, 0.8, state)
    part = crossing(state, stages, 0, 0.8, 0.8)
    assert between(state, stages, 0, 0.8, part) <= 0.8
    assert between(state, stages, 0, 0.8, part - 1e-9) > 0.8


@given(st.floats(1e-3, 1e4), st.floats(0.0, 1e6), st.floats(1e-6, 1.0))
def test_the_next_step_stays_within_its_bounds(step: float, error: float, allowed: float) -> None:
    new = next_step(step, error, allowed)
    # 1e-12: rounding of a product.
    assert SMALLEST_SHRINK * step * (1 - 1e-12) <= new <= LARGEST_GROWTH * step * (1 + 1e-12)


@pytest.mark.parametrize("error", [math.nan, math.inf])
def test_a_step_without_a_number_is_cut_most(error: float) -> None:
    assert next_step(60.0, error, 1e-3) == 60.0 * SMALLEST_SHRINK
