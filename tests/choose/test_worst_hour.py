"""The worst hour is the one with the least surplus, and means are exact."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.choose.worst_hour import means_of_line, means_of_steps, worst_hour
from coldsoak.night.series import Series


def series(asked: list[float], wall: list[float]) -> Series:
    """Half-hourly rows of what is asked and what the wall can give [W]."""
    n = len(asked)
    none, many = np.zeros(n), np.zeros((n, 1))
    return Series(
        seconds=1800.0 * np.arange(n),
        air=none,
        wind=none,
        inside=none,
        asked=np.array(asked),
        vapor_can=none + 1.0,
        sensible_can=none + 2.0,
        wall_can=np.array(wall),
        liquid=many,
        gauge=many,
        left=many,
        open_cylinder=many > 0,
    )


def test_the_least_surplus_decides() -> None:
    worst = worst_hour(series([10, 10, 50, 50, 10, 10], [90, 90, 90, 60, 90, 90]), until=9000.0)
    assert worst is not None
    assert worst.seconds == 5400.0
    assert worst.asked == pytest.approx((50.0 + 10.0) / 2)
    assert (worst.vapor, worst.sensible, worst.wall) == (1.0, 2.0, 60.0)


def test_hours_after_the_failure_do_not_count() -> None:
    worst = worst_hour(series([10, 20, 10, 90, 90, 90], [99] * 6), until=1800.0)
    assert worst is not None
    assert worst.seconds <= 1800.0


def test_nothing_burning_has_no_worst_hour() -> None:
    assert worst_hour(series([0, 0, 0], [9, 9, 9]), until=3600.0) is None


@given(
    st.lists(st.floats(0.0, 1e5), min_size=2, max_size=30),
    st.integers(min_value=1, max_value=50),
)
def test_means_keep_the_integral(values: list[float], columns: int) -> None:
    seconds = np.arange(len(values), dtype=float)
    edges = np.linspace(0.0, seconds[-1], columns + 1)
    heights = np.array(values)
    line = (means_of_line(seconds, heights, edges) * np.diff(edges)).sum()
    steps = (means_of_steps(seconds, heights, edges) * np.diff(edges)).sum()
    assert line == pytest.approx(np.trapezoid(heights, seconds), rel=1e-9, abs=1e-6)
    assert steps == pytest.approx(heights[:-1].sum(), rel=1e-9, abs=1e-6)
