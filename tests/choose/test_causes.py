"""Every cause has a trip that fails by it, and neighbours that fail by another or not at all."""

import pytest
from trips import FURNACE, PEOPLE, SHELTER, STOVE, constant, cylinder, plan

from coldsoak.choose.answer import Plan

BIG = cylinder(size="100 lb", contents="90 lb")
HALF_BUTANE = "{ propane = 0.5, n-butane = 0.5 }"


def stove(kilowatts: float) -> str:
    return STOVE.replace("2 kW", f"{kilowatts} kW")


def furnace(btu: int, celsius: float = 18.0) -> str:
    return FURNACE.replace("16000", str(btu)).replace("18 degC", f"{celsius} degC")


def frost(degrees: float) -> str:
    """Days at 0 degC and nights in frost."""
    return (
        f'{{ lows = ["{degrees} degC", "{degrees} degC"], highs = ["0 degC", "0 degC"], '
        'wind = "1 m/s", humidity = "70 %", sky = "overcast" }'
    )


def cause(of: Plan) -> str | None:
    """Cause of the first failure."""
    return None if of.first_failure is None else of.first_failure.cause


def butane_trip(kilowatts: float, low: float) -> Plan:
    return plan(
        cylinder(contents="3 kg"),
        stove(kilowatts),
        fuel=HALF_BUTANE,
        weather=frost(low),
        start="2026-01-16T10:00:00",
        length="30 h",
    )


def test_a_draw_too_large_for_the_cold_is_vapor_limited() -> None:
    made = plan(cylinder(), stove(6.0))
    assert cause(made) == "vapor-limited"
    assert made.cylinders[0].left_kg > 0.5 * 8.39
    assert made.cylinders[0].failed_at_hours == made.first_failure.hours
    assert made.cylinders[0].lowest_margin_kPa == pytest.approx(0.0, abs=0.2)


def test_a_third_of_that_draw_holds() -> None:
    assert cause(plan(cylinder(), stove(2.0))) is None


def test_a_little_fuel_in_the_warmth_ends_empty() -> None:
    made = plan(cylinder(contents="3 lb"), STOVE, weather=constant(20.0), length="40 h")
    assert cause(made) == "empty"
    # What is left is the vapor of 21.6 L at the least pressure (135.8 kPa by the ideal gas law):
    # 2.45 kg/m3 at the air's 20 C, 2.95 kg/m3 at the -30 C to which the last liquid can cool it.
    assert 0.0216 * 2.45 < made.cylinders[0].left_kg < 0.0216 * 2.95 / 0.95
    assert made.fuel.residue_kg == 0.0


def test_the_same_fuel_lasts_a_shorter_trip() -> None:
    assert (
        cause(plan(cylinder(contents="3 lb"), STOVE, weather=constant(20.0), length="8 h")) is None
    )


def test_butane_in_a_cold_night_leaves_a_residue() -> None:
    made = butane_trip(0.4, -30.0)
    assert cause(made) == "residue"
    # All that is left is too heavy for the air of that moment.
    assert made.fuel.residue_kg == pytest.approx(made.fuel.left_kg, rel=1e-9)
    assert made.cylinders[0].failed_at_hours == made.first_failure.hours


def test_the_same_butane_at_a_large_draw_is_vapor_limited_before_the_frost() -> None:
    assert cause(butane_trip(2.0, -30.0)) == "vapor-limited"


def test_the_same_night_leaves_no_residue_of_propane() -> None:
    made = plan(
        cylinder(contents="3 kg"),
        stove(0.4),
        fuel='"pure propane"',
        weather=frost(-30.0),
        start="2026-01-16T10:00:00",
        length="30 h",
    )
    assert cause(made) is None
    assert made.fuel.residue_kg == 0.0


def test_less_than_a_twentieth_left_is_no_residue() -> None:
    made = plan(
        cylinder(contents="0.25 kg"),
        stove(0.4),
        fuel='"HD-5"',
        weather=frost(-30.0),
        start="2026-01-16T10:00:00",
        length="30 h",
    )
    assert cause(made) in ("empty", "vapor-limited")


def test_a_furnace_too_small_for_the_frost_is_short_of_heat() -> None:
    made = plan(BIG, furnace(6000), SHELTER, PEOPLE, weather=constant(-25.0))
    assert cause(made) == "heat-short"
    assert made.cylinders[0].failed_at_hours is None
    assert made.shelter.lowest_inside_C < 15.0


def test_a_furnace_of_that_kind_twice_as_large_is_not() -> None:
    made = plan(BIG, furnace(12000), SHELTER, PEOPLE, weather=constant(-25.0))
    assert cause(made) is None
    assert made.shelter.lowest_inside_C > 15.0


def test_a_small_furnace_holds_a_low_set_point() -> None:
    made = plan(BIG, furnace(6000, 5.0), SHELTER, PEOPLE, weather=constant(-25.0))
    assert cause(made) is None


def test_a_room_without_heat_freezes() -> None:
    made = plan(BIG, SHELTER + 'temperature = "10 degC"\n', weather=constant(-10.0))
    assert cause(made) == "freezing"
    assert made.shelter.freezing_at_hours == made.first_failure.hours
    assert made.shelter.lowest_inside_C == pytest.approx(-10.0, abs=1.0)


def test_a_room_without_heat_in_mild_air_does_not_freeze() -> None:
    made = plan(BIG, SHELTER + 'temperature = "10 degC"\n', weather=constant(2.0))
    assert cause(made) is None
    assert made.shelter.freezing_at_hours is None


def test_a_locked_furnace_is_told_by_its_gas_and_the_room_freezes_after() -> None:
    made = plan(cylinder(contents="6 lb"), FURNACE, SHELTER, weather=constant(-30.0), length="24 h")
    assert cause(made) == "vapor-limited"
    assert made.first_failure.hours < made.shelter.freezing_at_hours
    assert made.shelter.lowest_inside_C < -20.0


def test_a_cold_cabin_may_take_its_time_to_warm() -> None:
    made = plan(
        BIG, furnace(16000), SHELTER + 'temperature = "-20 degC"\n', PEOPLE, weather=constant(-20.0)
    )
    assert cause(made) is None
    assert made.shelter.lowest_inside_C == pytest.approx(-20.0, abs=0.1)


def test_a_cold_cabin_that_does_not_warm_in_six_hours_is_short_of_heat() -> None:
    made = plan(
        BIG, furnace(6500), SHELTER + 'temperature = "-20 degC"\n', PEOPLE, weather=constant(-25.0)
    )
    assert cause(made) == "heat-short"
    assert made.first_failure.hours == pytest.approx(6.0, abs=0.05)


def test_a_set_point_raised_in_the_morning_is_no_lack_of_heat() -> None:
    setback = 'setback = [{ from = "16:00", to = "06:00", set = "9 degC" }]\n'
    made = plan(
        BIG,
        furnace(7500) + setback,
        SHELTER + 'temperature = "9 degC"\n',
        PEOPLE,
        weather=constant(-28.0),
        length="18 h",
    )
    assert cause(made) is None
