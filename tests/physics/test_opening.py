"""Air through vents: hydrostatics in closed form, and what it must never do."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics.opening import (
    DISCHARGE,
    GRAVITY,
    Vents,
    neutral_level,
    vent_flow,
    vents_of,
)

WARM, COLD = 293.15, 253.15

areas = st.floats(1e-4, 0.2)
heights = st.floats(0.0, 3.0)
openings = st.lists(st.tuples(areas, heights), min_size=1, max_size=6)


def vents(pairs) -> Vents:
    """Vents of (area, height) pairs."""
    return vents_of(np.array([a for a, _ in pairs]), np.array([h for _, h in pairs]))


@given(low=areas, high=areas, rise=st.floats(0.1, 3.0))
def test_two_openings_pass_what_their_resistances_in_series_pass(low, high, rise):
    """1/A^2 = 1/A1^2 + 1/A2^2, over the whole height between them."""
    together = 1.0 / np.hypot(1.0 / low, 1.0 / high)
    found = vents([(low, 0.2), (high, 0.2 + rise)])
    assert found.stack == pytest.approx(DISCHARGE * together * np.sqrt(rise), rel=1e-6)


@given(openings)
def test_as_much_comes_in_below_the_neutral_level_as_goes_out_above(pairs):
    area, height = (np.array(each) for each in zip(*pairs, strict=True))
    level = neutral_level(area, height)
    assert height.min() <= level <= height.max()
    above = (area * np.sqrt(np.clip(height - level, 0.0, None))).sum()
    below = (area * np.sqrt(np.clip(level - height, 0.0, None))).sum()
    # a bisection to 2^-50 of 3 m leaves the root of that beside an opening at the level itself
    assert above == pytest.approx(below, abs=area.sum() * 1e-7)


@given(openings, areas, heights)
def test_one_more_opening_never_lets_less_through(pairs, area, height):
    before, after = vents(pairs), vents([*pairs, (area, height)])
    for inside, outside, wind in ((WARM, COLD, 0.0), (COLD, COLD, 3.0), (WARM, COLD, 3.0)):
        less, more = (vent_flow(*each, inside, outside, wind) for each in (before, after))
        assert more >= less * (1.0 - 1e-9)


@given(area=areas, height=heights, count=st.integers(1, 4))
def test_openings_at_one_height_have_no_stack(area, height, count):
    assert vents([(area, height)] * count).stack == pytest.approx(0.0, abs=1e-9)


def test_no_opening_lets_nothing_through():
    nothing = vents_of(np.array([]), np.array([]))
    assert vent_flow(*nothing, WARM, COLD, 10.0) == 0.0


def test_a_warm_afternoon_drives_as_much_air_the_other_way():
    through = vents([(0.01, 0.2), (0.01, 1.8)])
    assert vent_flow(*through, WARM, COLD, 0.0) == vent_flow(*through, COLD, WARM, 0.0)


def test_the_flow_is_that_of_bernoulli():
    """100 cm2 each, 1.6 m apart, 40 K: the pressure over each is half of rho g h dT/T."""
    through = vents([(0.01, 0.2), (0.01, 1.8)])
    speed = np.sqrt(2.0 * GRAVITY * 0.8 * 40.0 / WARM)
    assert vent_flow(*through, WARM, COLD, 0.0) == pytest.approx(0.6 * 0.01 * speed)


def test_stack_and_wind_add_as_squares():
    through = vents([(0.01, 0.2), (0.01, 1.8)])
    stack = vent_flow(*through, WARM, COLD, 0.0)
    wind = vent_flow(*through, WARM, WARM, 3.0)
    # 0.25 of the wind through half of the area
    assert wind == pytest.approx(0.25 * 0.01 * 3.0)
    assert vent_flow(*through, WARM, COLD, 3.0) == pytest.approx(np.hypot(stack, wind))


def test_wind_on_a_single_opening_hardly_enters():
    assert vents([(0.01, 1.0)]).wind < 0.25 * vents([(0.005, 1.0), (0.005, 1.0)]).wind
