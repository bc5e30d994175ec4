"""Uncertain inputs make the answer a range, and the range says what to measure first."""

import math
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st
from trips import FURNACE, PEOPLE, SHELTER, STOVE, constant, cylinder, parsed, plan

from coldsoak.choose.answer import Plan
from coldsoak.choose.spread import RANK, Brief, brief, measure_first

CONTENTS = "cylinder.A.contents"


@cache
def uncertain_fill() -> Plan:
    """A cylinder between nearly empty and full, for a stove of 2 kW and 30 h."""
    return plan(cylinder(contents="4 lb .. 18 lb"), STOVE, weather=constant(-5.0), length="30 h")


@cache
def uncertain_fill_and_air() -> Plan:
    """The same with air that is hardly known, too."""
    weather = '{ temperature = "-6 degC .. -4 degC", wind = "1 m/s", humidity = "70 %", sky = "overcast" }'  # noqa: E501
    return plan(cylinder(contents="4 lb .. 18 lb"), STOVE, weather=weather, length="30 h")


def test_a_trip_without_uncertain_inputs_has_no_range() -> None:
    assert plan(cylinder(), STOVE).range is None


def test_the_range_runs_from_the_worst_to_the_best_answer() -> None:
    spread = uncertain_fill().range
    assert (spread.worst, spread.best) == ("fails", "holds")
    assert spread.latest_failure_hours is None
    # 4 lb, less what stays as vapor, at 2 kW: 12 h.
    assert spread.earliest_failure_hours == pytest.approx(12.0, rel=0.1)


def test_both_ends_are_told_with_their_texts() -> None:
    (fill,) = uncertain_fill().range.inputs
    assert (fill.key, fill.low, fill.high) == (CONTENTS, "4 lb", "18 lb")
    assert (fill.verdict_at_low, fill.verdict_at_high) == ("fails", "holds")
    assert fill.failure_hours_at_low is not None
    assert fill.failure_hours_at_high is None
    assert fill.left_kg_at_low < fill.left_kg_at_high


def test_the_ends_are_the_plans_of_those_ends() -> None:
    (fill,) = uncertain_fill().range.inputs
    low = plan(cylinder(contents="4 lb"), STOVE, weather=constant(-5.0), length="30 h")
    assert fill.failure_hours_at_low == pytest.approx(low.first_failure.hours, rel=1e-9)
    assert fill.left_kg_at_low == pytest.approx(low.fuel.left_kg, rel=1e-9)


def test_the_plan_itself_is_that_of_the_middle() -> None:
    middle = plan(cylinder(contents="11 lb"), STOVE, weather=constant(-5.0), length="30 h")
    assert uncertain_fill().fuel.burned_kg == pytest.approx(middle.fuel.burned_kg, rel=1e-6)
    assert uncertain_fill().verdict == middle.verdict


def test_what_changes_the_verdict_is_measured_first() -> None:
    spread = uncertain_fill_and_air().range
    assert [each.key for each in spread.inputs] == ["trip.weather.temperature", CONTENTS]
    assert spread.measure_first == CONTENTS


def test_all_inputs_at_their_worse_ends_are_in_the_range() -> None:
    spread = uncertain_fill_and_air().range
    ends = [each.left_kg_at_low for each in spread.inputs]
    assert spread.least_left_kg <= min(ends)
    worst = plan(cylinder(contents="4 lb"), STOVE, weather=constant(-6.0), length="30 h")
    assert spread.earliest_failure_hours <= worst.first_failure.hours * (1 + 1e-6)


def test_an_unknown_fill_is_anything_from_empty_to_full() -> None:
    spread = plan(cylinder(contents="unknown"), STOVE, weather=constant(-5.0), length="30 h").range
    assert (spread.worst, spread.best) == ("fails", "holds")
    assert spread.earliest_failure_hours == 0.0


def test_an_input_of_no_consequence_is_not_worth_measuring() -> None:
    made = plan(
        cylinder(),
        '\n[[appliance]]\nkind = "grill"\ninput = "0 W"\nelectric = "0 W .. 10 W"\n',
    )
    assert made.range.measure_first is None
    assert made.range.worst == made.range.best == "holds"


def test_a_furnace_of_unknown_input_is_too_small_or_not() -> None:
    made = plan(
        cylinder(size="100 lb", contents="90 lb"),
        FURNACE.replace("16000 Btu/h", "5000 Btu/h .. 20000 Btu/h"),
        SHELTER,
        PEOPLE,
        weather=constant(-25.0),
    )
    assert (made.range.worst, made.range.best) == ("fails", "holds")
    assert made.range.inputs[0].verdict_at_low == "fails"


def test_a_brief_of_no_levels_is_the_trip_itself() -> None:
    trip = parsed(cylinder(contents="4 lb .. 18 lb"), STOVE, weather=constant(-5.0), length="30 h")
    assert brief(trip, {}).left_kg == pytest.approx(uncertain_fill().fuel.left_kg, rel=1e-9)


briefs = st.builds(
    Brief,
    verdict=st.sampled_from(sorted(RANK)),
    failure_hours=st.none() | st.floats(0.0, 40.0),
    margin=st.floats(0.0, 1e5),
    left_kg=st.floats(0.0, 9.0),
)


@given(st.dictionaries(st.sampled_from("abc"), st.tuples(briefs, briefs), min_size=1))
def test_measuring_first_is_worth_most(ends: dict[str, tuple[Brief, Brief]]) -> None:
    key = measure_first(ends, 40.0)

    def verdicts(one: str) -> int:
        low, high = ends[one]
        return abs(RANK[low.verdict] - RANK[high.verdict])

    if key is not None:
        assert verdicts(key) == max(verdicts(one) for one in ends)
        assert math.isfinite(ends[key][0].left_kg)
