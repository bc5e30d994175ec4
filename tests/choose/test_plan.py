"""A plan is valid, complete and finite for every trip that may be asked about."""

import json
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from trips import FURNACE, PEOPLE, SHELTER, STOVE, constant, cylinder, planned, trip_text

from coldsoak.choose.answer import plan_object, plan_schema
from coldsoak.choose.plan import Planned

VALIDATOR = Draft202012Validator(plan_schema())

CLOSED = 1e-6
"""Promised of mass and energy, relative to what was burned (at least 1 g)."""

GRILL = STOVE.replace("stove", "grill")


def supply(arrangement: str) -> str:
    return f'\n[supply]\narrangement = "{arrangement}"\n'


TRIPS = {
    "nothing burns": trip_text(cylinder()),
    "nothing burns in a shelter": trip_text(cylinder(), SHELTER),
    "a stove": trip_text(cylinder(), STOVE),
    "a furnace, no shelter": trip_text(cylinder(), FURNACE, weather=constant(-30.0)),
    "a furnace in a camper": trip_text(cylinder(), FURNACE, SHELTER, PEOPLE),
    "one canister": trip_text(
        cylinder(size="450 g", contents="380 g"), STOVE, weather=constant(-5.0), length="3 h"
    ),
    "twelve cylinders": trip_text(
        *(cylinder(f"C{i}") for i in range(6)),
        *(cylinder(f"S{i}", role="spare") for i in range(6)),
        STOVE.replace("2 kW", "20 kW"),
        supply("together"),
        length="72 h",
    ),
    "half an hour": trip_text(cylinder(), STOVE, length="30 min"),
    "ten minutes": trip_text(cylinder(), STOVE, length="10 min"),
    "two weeks": trip_text(
        cylinder(size="100 lb", contents="90 lb"), FURNACE, SHELTER, PEOPLE, length="14 d"
    ),
    "in the heat at the equator": trip_text(
        cylinder(),
        STOVE,
        weather=constant(35.0),
        place='{ elevation = "10 m", latitude = 0.0, longitude = 20.0 }',
        length="60 h",
    ),
    "in deep cold": trip_text(cylinder(), FURNACE, SHELTER, weather=constant(-44.0), length="24 h"),
    "warm contents in deep cold": trip_text(
        cylinder(more='temperature = "15 degC"'),
        FURNACE,
        SHELTER,
        weather=constant(-44.0),
        length="24 h",
    ),
    "high in the mountains": trip_text(cylinder(), STOVE, place='{ elevation = "4500 m" }'),
    "a changeover": trip_text(
        cylinder(),
        cylinder("B", role="reserve"),
        STOVE.replace("2 kW", "4 kW"),
        supply("automatic changeover"),
        length="40 h",
    ),
    "a changeover without a reserve": trip_text(cylinder(), STOVE, supply("automatic changeover")),
    "only spares, open together": trip_text(
        cylinder(role="spare"), cylinder("B", role="spare"), STOVE, supply("together")
    ),
    "an empty cylinder": trip_text(cylinder(contents="0 kg"), STOVE, weather=constant(5.0)),
    "an empty cylinder and a full spare": trip_text(
        cylinder(contents="0 kg"), cylinder("B", role="spare"), STOVE, weather=constant(5.0)
    ),
    "an appliance of no power": trip_text(cylinder(), STOVE.replace("2 kW", "0 W")),
    "a heater that always runs": trip_text(
        cylinder(more='heater = { power = "60 W", on = "always" }'), STOVE
    ),
    "a warm cabin locker and a grill": trip_text(
        cylinder(more='place = "locker"'), GRILL, FURNACE, SHELTER, PEOPLE
    ),
    "lows and highs": trip_text(
        cylinder(),
        STOVE,
        weather='{ lows = ["-20 degC", "-25 degC"], highs = ["-8 degC", "-9 degC"] }',
        length="30 h",
    ),
    "an uncertain fill": trip_text(cylinder(contents="4 lb .. 18 lb"), STOVE, length="30 h"),
}

trips = pytest.mark.parametrize("name", TRIPS)


def numbers(value: Any) -> list[float]:
    """Every number in a written plan."""
    if isinstance(value, dict):
        return [number for entry in value.values() for number in numbers(entry)]
    if isinstance(value, list):
        return [number for entry in value for number in numbers(entry)]
    return [float(value)] if isinstance(value, int | float) else []


def check(made: Planned) -> None:
    """What every plan must be."""
    written = json.loads(json.dumps(plan_object(made.plan), allow_nan=False))
    VALIDATOR.validate(written)
    assert all(math.isfinite(number) for number in numbers(written))
    plan, series = made.plan, made.series
    assert plan.balance.mass_rel <= CLOSED
    assert plan.balance.energy_rel <= CLOSED
    fuel = plan.fuel
    # An empty cylinder is computed with a tenth of a gram in it.
    slack = 1e-4 * len(plan.cylinders) + 1e-9
    assert fuel.start_kg == pytest.approx(fuel.burned_kg + fuel.left_kg, abs=slack)
    assert sum(fuel.by_appliance_kg.values()) == pytest.approx(fuel.burned_kg, abs=1e-9)
    assert sum(one.left_kg for one in plan.cylinders) == pytest.approx(fuel.left_kg, abs=1e-9)
    assert 0.0 <= fuel.residue_kg <= fuel.left_kg + 1e-9
    assert (plan.verdict == "fails") == (plan.first_failure is not None)
    assert plan.swaps == () or plan.as_packed_failure is not None
    for name in ("air", "wind", "asked", "vapor_can", "sensible_can", "wall_can"):
        assert np.isfinite(getattr(series, name)).all(), name
    for name in ("liquid", "gauge", "left"):
        assert np.isfinite(getattr(series, name)).all(), name
    # A step may err by 2e-5 of what is left (feed.SHARE_TOLERANCE), and so may its interpolant.
    assert (np.diff(series.left, axis=0) <= 1e-4 * series.left[:-1]).all()
    assert min(series.vapor_can.min(), series.sensible_can.min(), series.wall_can.min()) >= 0.0


@trips
def test_a_plan_is_valid_complete_and_finite(name: str) -> None:
    check(planned(TRIPS[name]))


@trips
def test_the_keys_of_every_plan_are_the_same(name: str) -> None:
    keys = list(plan_object(planned(TRIPS["a stove"]).plan))
    assert list(plan_object(planned(TRIPS[name]).plan)) == keys


@trips
def test_a_plan_is_the_same_each_time(name: str) -> None:
    text = TRIPS[name]
    again = planned.__wrapped__(text).plan
    assert plan_object(again) == plan_object(planned(text).plan)


def plan_of(name: str) -> Any:
    return planned(TRIPS[name]).plan


def test_nothing_burning_holds_and_keeps_its_fuel() -> None:
    plan = plan_of("nothing burns")
    assert plan.verdict == "holds"
    assert plan.fuel.burned_kg == 0.0
    assert plan.fuel.by_appliance_kg == {}
    assert plan.shelter is None


def test_a_furnace_without_a_shelter_burns_all_the_time() -> None:
    plan = plan_of("a furnace, no shelter")
    assert plan.shelter is None
    assert any("burning all the" in note for note in plan.notes)


def test_deep_cold_fails_at_once_and_the_room_freezes() -> None:
    plan = plan_of("in deep cold")
    # The room has to cool to the turning point and the purge to end before gas is missed.
    assert plan.first_failure.hours < 0.1
    assert plan.fuel.burned_kg == 0.0
    assert plan.shelter.freezing_at_hours is not None


def test_warm_contents_feed_for_a_while_in_deep_cold() -> None:
    plan = plan_of("warm contents in deep cold")
    assert 0.2 < plan.first_failure.hours < 24.0
    assert "no-warming" in [caution.code for caution in plan.cautions]


def test_an_empty_cylinder_fails_at_once_as_empty() -> None:
    plan = plan_of("an empty cylinder")
    assert (plan.first_failure.hours, plan.first_failure.cause) == (0.0, "empty")


def test_an_empty_cylinder_is_changed_at_the_start() -> None:
    plan = plan_of("an empty cylinder and a full spare")
    assert [(swap.hours, swap.from_, swap.to) for swap in plan.swaps] == [(0.0, "A", "B")]
    assert plan.verdict == "holds"


def test_the_heat_of_the_equator_empties_the_cylinder_by_the_gas_burned() -> None:
    plan = plan_of("in the heat at the equator")
    # 8.39 kg of HD-5 at 50.2 MJ/kg gross, less the vapor of 21.6 L that stays, at 2 kW: 58 h.
    assert plan.first_failure.cause == "empty"
    assert plan.first_failure.hours == pytest.approx(58.2, rel=0.01)


def test_a_night_of_a_stove_burns_power_over_heating_value() -> None:
    plan = plan_of("a stove")
    # Propane's gross heating value is 50.3 MJ/kg (NIST); the vapor holds 1 % of butane.
    assert plan.fuel.burned_kg == pytest.approx(14 * 3600 * 2000 / 50.3e6, rel=0.005)


def test_the_series_covers_the_trip_in_ten_minute_rows() -> None:
    assert planned(TRIPS["half an hour"]).series.seconds.tolist() == [0.0, 600.0, 1200.0, 1800.0]


def test_stores_are_told_by_their_sign() -> None:
    stores = plan_of("a heater that always runs").stores
    # 60 W for 14 h, all of it to the liquid, which becomes warmer than the air and loses some.
    assert stores.heater_kJ == pytest.approx(60 * 14 * 3.6, rel=1e-6)
    assert stores.wall_kJ < 0.0
    assert plan_of("a stove").stores.wall_kJ > 0.0
    assert plan_of("a stove").stores.heater_kJ == 0.0


any_trip = st.builds(
    trip_text,
    st.builds(
        cylinder,
        contents=st.floats(0.0, 8.4).map(lambda kg: f"{kg:.4f} kg"),
        more=st.sampled_from(
            [
                "",
                'place = "locker"\n',
                'place = "covered"\n',
                'orientation = "horizontal"\n',
                'temperature = "20 degC"\n',
                'insulation = "0.5 m2K/W"\n',
            ]
        ),
    ),
    st.sampled_from(
        ["", cylinder("B", role="spare"), cylinder("B"), cylinder("B", role="reserve")]
    ),
    st.sampled_from(["", STOVE, FURNACE, FURNACE + STOVE, GRILL + STOVE]),
    st.sampled_from(["", SHELTER, SHELTER + PEOPLE, SHELTER + 'temperature = "-30 degC"\n']),
    st.sampled_from(["one at a time", "together", "automatic changeover"]).map(supply),
    weather=st.builds(constant, st.floats(-50.0, 45.0).map(round), st.floats(0.0, 20.0).map(round)),
    start=st.datetimes().map(
        lambda at: f"2026-{at.month:02}-{min(at.day, 28):02}T{at.hour:02}:{at.minute:02}:00"
    ),
    length=st.floats(0.2, 60.0).map(lambda hours: f"{hours:.3f} h"),
    fuel=st.sampled_from(
        [
            '"HD-5"',
            '"commercial propane"',
            '"commercial butane"',
            '"propane-butane 60/40"',
            "{ ethane = 0.05, propane = 0.7, propylene = 0.05, isobutane = 0.1, n-butane = 0.1 }",
        ]
    ),
    place=st.sampled_from(['{ elevation = "0 m" }', '{ elevation = "3500 m", latitude = 60.0 }']),
)


@settings(max_examples=60)
@given(any_trip)
def test_every_trip_has_a_plan(text: str) -> None:
    check(planned.__wrapped__(text))
