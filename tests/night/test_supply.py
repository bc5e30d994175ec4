"""Who feeds: check valves, equal pressure, automatic changeover."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.night.contents import CONTENTS
from coldsoak.night.records import Floats
from coldsoak.night.supply import BAND, feed_pressure, shares

SET_POINT = 170e3
"""Of the changeover, absolute [Pa]."""
EXACT = 1e-12
"""Sums of a few shares: rounding only."""

pressures = st.floats(1e3, 2e6)


def parts(pressure: list[float], side: list[int], changeover: float = SET_POINT) -> Floats:
    """Share of the draw of cylinders with these pressures on these sides."""
    contents = np.zeros(len(pressure), CONTENTS).view(np.recarray)
    contents.pressure = pressure
    share = np.full(len(pressure), np.nan)
    shares(contents, np.array(side), changeover, share)
    return share


def regulator_pressure(pressure: list[float], side: list[int]) -> float:
    """What the regulator sees [Pa]."""
    contents = np.zeros(len(pressure), CONTENTS).view(np.recarray)
    contents.pressure = pressure
    return float(feed_pressure(contents, np.array(side)))


@given(st.lists(st.tuples(pressures, st.integers(-1, 1)), min_size=1, max_size=12))
def test_shares_add_up_to_all_and_none_flows_backward(rig: list[tuple[float, int]]) -> None:
    pressure, side = [p for p, _ in rig], [s for _, s in rig]
    share = parts(pressure, side)
    assert (share >= 0.0).all()
    assert (share[np.array(side) == -1] == 0.0).all()
    if max(side) >= 0:
        assert share.sum() == pytest.approx(1.0, abs=EXACT)


@given(
    st.lists(st.tuples(pressures, st.integers(-1, 1)), min_size=2, max_size=8).flatmap(
        lambda rig: st.tuples(st.just(rig), st.permutations(range(len(rig))))
    )
)
def test_the_order_of_the_cylinders_does_not_matter(
    drawn: tuple[list[tuple[float, int]], list[int]],
) -> None:
    rig, order = drawn
    share = parts([p for p, _ in rig], [s for _, s in rig])
    mixed = parts([rig[i][0] for i in order], [rig[i][1] for i in order])
    # 1e-9: headers are means of pressures added up in another order.
    assert mixed == pytest.approx(share[order], abs=1e-9)


@given(st.integers(1, 12), pressures)
def test_equal_pressures_share_equally(count: int, pressure: float) -> None:
    assert parts([pressure] * count, [0] * count) == pytest.approx(1.0 / count, abs=1e-9)


def test_a_cylinder_a_band_behind_gives_nothing() -> None:
    assert parts([300e3, 300e3 - BAND], [0, 0]) == pytest.approx([1.0, 0.0], abs=EXACT)


def test_a_cylinder_half_a_band_behind_gives_a_quarter() -> None:
    assert parts([300e3, 300e3 - BAND / 2], [0, 0]) == pytest.approx([0.75, 0.25], abs=EXACT)


def test_a_cylinder_that_falls_behind_gives_less() -> None:
    behind = [parts([300e3, 300e3 - fall], [0, 0])[1] for fall in np.linspace(0.0, BAND, 11)]
    assert (np.diff(behind) < 0.0).all()


def test_the_supply_feeds_alone_from_a_band_above_the_set_point() -> None:
    assert parts([SET_POINT + BAND, 400e3], [0, 1]) == pytest.approx([1.0, 0.0], abs=EXACT)


def test_the_reserve_feeds_alone_at_the_set_point() -> None:
    assert parts([SET_POINT, 400e3], [0, 1]) == pytest.approx([0.0, 1.0], abs=EXACT)


def test_both_sides_feed_in_between() -> None:
    assert parts([SET_POINT + BAND / 2, 400e3], [0, 1]) == pytest.approx([0.5, 0.5], abs=EXACT)


@given(st.floats(1e3, SET_POINT), st.floats(0.0, 1.0))
def test_a_reserve_that_is_a_band_weaker_never_helps(supply: float, weaker: float) -> None:
    reserve = max(1.0, supply - BAND) * weaker
    if supply - reserve >= BAND:
        assert parts([supply, reserve], [0, 1])[1] == pytest.approx(0.0, abs=EXACT)


def test_a_reserve_feeds_where_there_is_no_supply() -> None:
    assert parts([300e3, 400e3], [-1, 1]) == pytest.approx([0.0, 1.0], abs=EXACT)


def test_an_empty_supply_side_leaves_all_to_the_reserve() -> None:
    assert parts([2e3, 400e3], [0, 1]) == pytest.approx([0.0, 1.0], abs=EXACT)


def test_the_regulator_sees_the_best_open_cylinder() -> None:
    assert regulator_pressure([300e3, 200e3, 900e3], [0, 1, -1]) == 300e3
    assert regulator_pressure([200e3, 300e3, 900e3], [0, 1, -1]) == 300e3


def test_the_regulator_sees_no_pressure_where_nothing_is_connected() -> None:
    assert regulator_pressure([300e3], [-1]) == 0.0
