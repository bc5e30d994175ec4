"""What a night comes to, told of nights whose outcome is known beforehand."""

import numpy as np
import pytest
from nights import (
    HALF,
    HOUR,
    ICE,
    PROPANE,
    burner,
    cabin,
    celsius,
    cylinder,
    cylinder_states,
    events,
    furnace,
    kilograms_left,
    lit,
    marched,
    night,
    weather,
)

from coldsoak.night.burner import FLAME, IDLE, LOCKED, OUT, PURGE, WAIT
from coldsoak.night.cylinder import TEMPERATURE
from coldsoak.night.feed import FROST_STORE, HEATER, SENSIBLE, VAPOR, WALL
from coldsoak.night.march import (
    CAUSES,
    EMPTY,
    EVENT_CAUSE,
    EVENT_SWAP,
    FREEZING,
    HEAT_SHORT,
    RESIDUE,
    VAPOR_LIMITED,
    Outcome,
)
from coldsoak.night.records import ORDER_BURNER, ORDER_SET_POINT, ORDER_SWAP
from coldsoak.night.series import series_of
from coldsoak.physics.combustion import gross_heating_value

Orders = list[tuple[float, int, int, float]]
BIG = cylinder(150.0, liters=400.0, diameter=0.6)
"""So much fuel that only the room matters."""
LOCATED = 1.0
"""An event is located to the error of a step over the slope: well within a second of it [s]."""


def causes(outcome: Outcome) -> dict[str, float]:
    """Hours at which each cause came, of those that came."""
    return {
        name: float(seconds) / HOUR
        for name, seconds in zip(CAUSES, outcome.failures.seconds, strict=True)
        if np.isfinite(seconds)
    }


def swap(hours: float, off: int, on: int) -> tuple[float, int, int, float]:
    return hours * HOUR, ORDER_SWAP, off, float(on)


# What is burned


def test_a_steady_burner_burns_its_heat_over_its_heating_value() -> None:
    made = night(6.0, weather=weather(), cylinders=[cylinder(blend=PROPANE)], burners=[burner()])
    done = marched(made._replace(orders=night(1.0, weather=weather(), orders=lit()).orders))
    value = gross_heating_value(np.array(PROPANE))
    # The draw is steady and the fuel pure: rounding only.
    assert done.burned[0] == pytest.approx(2000.0 * 6.0 * HOUR / value, rel=1e-9)


def test_burners_that_burn_together_share_by_their_heat() -> None:
    made = night(3.0, weather=weather(), burners=[burner(1000.0), burner(3000.0)], orders=lit(0, 1))
    done = marched(made)
    assert done.burned[1] == pytest.approx(3.0 * done.burned[0], rel=1e-12)


def test_a_flame_of_no_power_burns_nothing() -> None:
    done = marched(night(2.0, weather=weather(), burners=[burner(0.0)], orders=lit()))
    assert done.burned.tolist() == [0.0]


def test_nothing_burning_burns_nothing() -> None:
    done = marched(night(48.0, weather=weather(hours=48.0)))
    assert causes(done) == {}
    assert kilograms_left(done) == pytest.approx([8.4], rel=1e-12)


def test_a_standing_cylinder_follows_the_air() -> None:
    made = night(
        72.0,
        weather=weather([-10.0, -30.0, -30.0], hours=72.0, wind=3.0),
        cylinders=[cylinder(temperature=10.0)],
    )
    # Half a night after the air has come to rest a 20-lb cylinder is at its temperature.
    assert cylinder_states(marched(made))[0, TEMPERATURE] == pytest.approx(celsius(-30.0), abs=0.3)


# Empty cylinders


def test_a_cylinder_burned_dry_stands_for_days_and_becomes_as_warm_as_the_air() -> None:
    made = night(
        200.0,
        weather=weather(35.0, hours=200.0),
        cylinders=[cylinder(temperature=35.0)],
        burners=[burner(6000.0)],
        orders=lit(),
    )
    done = marched(made, grid=600.0)
    assert causes(done).keys() == {"empty"}
    assert np.isfinite(done.track.cylinders).all()
    # 2e-3 K a step, and nothing else moves it any more.
    assert cylinder_states(done)[0, TEMPERATURE] == pytest.approx(celsius(35.0), abs=0.01)
    assert done.steps < 1000


@pytest.mark.parametrize("watts", [500.0, 1500.0, 3000.0, 6000.0, 20000.0])
@pytest.mark.parametrize("degrees", [35.0, 20.0, 5.0, -10.0])
def test_no_draw_and_no_air_makes_a_cylinder_forget_its_numbers(
    watts: float, degrees: float
) -> None:
    made = night(
        150.0,
        weather=weather(degrees, hours=150.0),
        cylinders=[cylinder(2.0, temperature=degrees)],
        burners=[burner(watts)],
        orders=lit(),
    )
    done = marched(made)
    assert np.isfinite(done.state).all()
    assert (cylinder_states(done)[:, 2:7] >= 0.0).all()
    assert done.steps < 2000


def test_an_empty_supply_side_leaves_the_night_to_the_reserve() -> None:
    made = night(
        12.0,
        weather=weather(),
        cylinders=[cylinder(1e-4), cylinder(side=1)],
        burners=[burner()],
        orders=lit(),
    )
    done = marched(made)
    assert causes(done) == {}
    assert 8.4 - kilograms_left(done)[1] == pytest.approx(done.burned.sum(), rel=1e-9)


# Causes


def failing(hours: float, degrees: float, watts: float, **content: float) -> Outcome:
    """One cylinder in steady air at one burner."""
    entry = cylinder(temperature=degrees, **content)
    return marched(
        night(
            hours,
            weather=weather(degrees, hours=hours),
            cylinders=[entry],
            burners=[burner(watts)],
            orders=lit(),
        )
    )


def test_a_cold_cylinder_with_much_left_is_vapor_limited() -> None:
    done = failing(24.0, -20.0, 6000.0, blend=PROPANE)
    assert causes(done).keys() == {"vapor-limited"}
    assert kilograms_left(done)[0] > 4.0


def test_a_warm_cylinder_is_empty_in_the_end() -> None:
    assert causes(failing(48.0, 20.0, 3000.0)).keys() == {"empty"}


def butane_in_frost() -> Outcome:
    """A day at 0 degC, then frost: the liquid cools after the air and cannot boil in it."""
    return marched(
        night(
            24.0,
            weather=weather([0.0, 0.0, -25.0, -25.0]),
            cylinders=[cylinder(3.0, HALF, temperature=0.0)],
            burners=[burner(400.0)],
            orders=lit(),
        )
    )


def test_butane_in_frost_leaves_a_residue() -> None:
    done = butane_in_frost()
    assert causes(done).keys() == {"residue"}
    assert kilograms_left(done)[0] > 0.05 * 3.0


def test_a_blend_that_would_boil_at_the_temperature_of_the_air_is_vapor_limited() -> None:
    done = failing(24.0, 5.0, 6000.0, blend=HALF)
    assert causes(done).keys() == {"vapor-limited"}


def test_a_supply_too_cold_at_the_start_fails_at_once() -> None:
    done = failing(5.0, -44.0, 1000.0)
    assert causes(done) == {"residue": 0.0}
    assert done.burned[0] == 0.0


def test_the_supply_fails_where_its_pressure_meets_the_need() -> None:
    done = failing(24.0, -20.0, 6000.0)
    seconds = done.failures.seconds[VAPOR_LIMITED]
    until = marched(
        night(
            seconds / HOUR,
            weather=weather(-20.0, hours=24.0),
            cylinders=[cylinder()],
            burners=[burner(6000.0)],
            orders=lit(),
        )
    )
    # 50 Pa: 0.01 K of liquid.
    assert until.books.lowest_margin[0] == pytest.approx(0.0, abs=50.0)
    assert done.failures.cylinder[0] == seconds


@pytest.mark.parametrize("watts", [400.0, 1000.0, 2000.0])
@pytest.mark.parametrize("lowest", [-18.0, -25.0, -30.0])
def test_a_supply_that_fails_names_its_cylinders(watts: float, lowest: float) -> None:
    made = night(
        24.0,
        weather=weather([0.0, 0.0, lowest, lowest]),
        cylinders=[cylinder(3.0, HALF, temperature=0.0), cylinder(3.0, HALF, side=-1)],
        burners=[burner(watts)],
        orders=lit(),
    )
    done = marched(made)
    assert done.failures.cylinder.tolist() == [min(done.failures.seconds), np.inf]
    # 0.2 kPa: the pressure met on the interpolant, against that after the books are closed.
    assert done.books.lowest_margin[0] == pytest.approx(0.0, abs=200.0)


# The room


def heated(hours: float, degrees: float, *burners: dict, orders: Orders | None = None, **shelter):
    """A cabin with more fuel than it needs."""
    return marched(
        night(
            hours,
            weather=weather(degrees, hours=hours),
            cylinders=[BIG],
            burners=burners,
            orders=orders or [],
            shelter=cabin(**shelter),
        ),
        grid=60.0,
    )


def test_a_furnace_keeps_the_room_between_its_turning_points() -> None:
    room = heated(8.0, -20.0, furnace(minimum_on=0.0, minimum_off=0.0)).track.room - celsius(18.0)
    # Beyond half the differential it falls by what the purge of 20 s costs.
    assert room.min() > -0.9
    assert room.max() < 0.5 + 1e-3


def test_a_minimum_time_carries_the_room_past_its_turning_point() -> None:
    room = heated(8.0, -20.0, furnace(minimum_on=180.0)).track.room - celsius(18.0)
    assert 1.0 < room.max() < 4.0


def test_a_furnace_too_small_is_short_of_heat_where_the_room_passes_the_mark() -> None:
    done = heated(8.0, -30.0, furnace(1500.0))
    hours = causes(done)["heat-short"]
    at = np.interp(hours * HOUR, done.track.seconds, done.track.room)
    # 0.02 K: the track's rows are a minute apart.
    assert at == pytest.approx(celsius(15.0), abs=0.02)


def test_a_furnace_that_is_large_enough_is_not_short() -> None:
    assert causes(heated(24.0, -20.0, furnace())) == {}


def test_a_cold_room_may_take_six_hours_to_warm() -> None:
    done = heated(12.0, -25.0, furnace(2100.0), temperature=celsius(-25.0))
    # The purge comes first.
    assert causes(done)["heat-short"] == pytest.approx(6.0 + 20.0 / HOUR, abs=1e-6)


def test_a_cold_room_that_warms_in_time_is_not_short() -> None:
    done = heated(12.0, -20.0, furnace(), temperature=celsius(-20.0))
    assert causes(done) == {}


def test_a_raised_set_point_starts_the_six_hours_anew() -> None:
    """The furnace burned all night for a lower set point, which it held within 3 K."""
    made = night(
        20.0,
        weather=weather([-30.0, -30.0, -20.0, -15.0, -12.0, -12.0], hours=20.0),
        cylinders=[BIG],
        burners=[furnace(2200.0, set_point=celsius(10.0))],
        orders=[(8 * HOUR, ORDER_SET_POINT, 0, celsius(16.0))],
        shelter=cabin(temperature=celsius(10.0)),
    )
    done = marched(made)
    assert [what for seconds, what, _ in events(done) if seconds < 8 * HOUR][-1] == FLAME
    assert "heat-short" not in causes(done)


def test_a_room_that_falls_to_the_freezing_point_freezes_there() -> None:
    done = heated(8.0, -20.0, people=0.0)
    hours = causes(done)["freezing"]
    at = np.interp(hours * HOUR, done.track.seconds, done.track.room)
    assert at == pytest.approx(ICE, abs=0.02)


def test_a_room_that_starts_frozen_does_not_freeze() -> None:
    assert causes(heated(8.0, -20.0, temperature=celsius(-20.0), people=0.0)) == {}


def test_the_lowest_temperature_inside_is_that_of_the_night_not_of_its_ends() -> None:
    made = night(
        24.0,
        weather=weather([5.0, 4.0, 1.0, 4.0, 5.0]),
        shelter=cabin(temperature=celsius(5.0), people=0.0),
    )
    done = marched(made, grid=600.0)
    # 0.05 K: the steps are as long as an hour around the lowest point.
    assert done.lowest_inside == pytest.approx(done.track.room.min(), abs=0.05)


def test_a_night_without_a_shelter_has_no_inside() -> None:
    done = marched(night(2.0, weather=weather()), grid=600.0)
    assert np.isnan(done.lowest_inside)
    assert np.isnan(done.track.room).all()


def test_two_thermostats_share_the_work() -> None:
    done = heated(
        12.0, -25.0, furnace(1800.0), furnace(2500.0, set_point=celsius(16.0), room_share=0.9)
    )
    assert causes(done) == {}
    assert done.burned[0] > done.burned[1] > 0.0
    assert done.track.room.min() > celsius(15.0)


def test_a_thermostat_that_rests_lets_the_other_heat_alone() -> None:
    done = heated(12.0, -10.0, furnace(4700.0), furnace(2500.0, set_point=celsius(12.0)))
    assert done.burned[1] == 0.0


def test_a_flame_outlasts_a_short_rise_of_the_set_point_by_its_minimum_time() -> None:
    done = heated(
        3.0,
        10.0,
        furnace(9000.0, minimum_on=1800.0, set_point=celsius(12.0)),
        orders=[
            (1.0 * HOUR, ORDER_SET_POINT, 0, celsius(20.0)),
            (1.1 * HOUR, ORDER_SET_POINT, 0, celsius(12.0)),
        ],
        temperature=celsius(14.0),
    )
    told = [(seconds, what) for seconds, what, _ in events(done)]
    assert told[:3] == [
        (1.0 * HOUR, PURGE),
        (1.0 * HOUR + 20.0, FLAME),
        (1.0 * HOUR + 20.0 + 1800.0, IDLE),
    ]


def test_a_furnace_without_gas_tries_three_times_and_locks_out() -> None:
    made = night(
        3.0,
        weather=weather(-44.0),
        cylinders=[cylinder(temperature=-44.0)],
        burners=[furnace()],
        shelter=cabin(),
    )
    done = marched(made)
    tries = [what for _, what, _ in events(done) if what < EVENT_CAUSE]
    assert tries == [PURGE, WAIT, PURGE, WAIT, PURGE, LOCKED]


# Changes of cylinders


def changing(hours: float, *orders: tuple[float, int, int, float]) -> Outcome:
    """Two full cylinders, the second one standing, and a steady burner."""
    made = night(
        hours,
        weather=weather([-20.0, -25.0, -20.0, -15.0, -18.0], hours=4.0),
        cylinders=[cylinder(), cylinder(side=-1)],
        burners=[burner(2500.0)],
        orders=[*lit(), *orders],
    )
    return marched(made, grid=600.0)


def test_a_change_at_the_start_is_as_if_the_other_had_been_connected() -> None:
    changed, plain = changing(4.0, swap(0.0, 0, 1)), changing(4.0)
    assert kilograms_left(changed)[::-1] == pytest.approx(kilograms_left(plain), rel=1e-12)


def test_a_change_at_the_end_changes_nothing() -> None:
    changed, plain = changing(4.0, swap(4.0, 0, 1)), changing(4.0)
    assert kilograms_left(changed) == pytest.approx(kilograms_left(plain), rel=1e-12)


def test_a_change_on_a_weather_row_is_made() -> None:
    done = changing(4.0, swap(2.0, 0, 1))
    burned = 8.4 - kilograms_left(done)
    # Half of the heat each; blends of slightly different vapor differ by 1e-4.
    assert burned[0] == pytest.approx(burned[1], rel=1e-3)


def test_a_change_there_and_back_is_made() -> None:
    done = changing(4.0, swap(1.0, 0, 1), swap(3.0, 1, 0))
    burned = 8.4 - kilograms_left(done)
    assert burned[0] == pytest.approx(burned[1], rel=1e-3)
    assert [what for _, what, _ in events(done)].count(EVENT_SWAP) == 2


def test_two_changes_at_one_time_are_made_in_their_order() -> None:
    done = changing(4.0, swap(2.0, 0, 1), swap(2.0, 1, 0))
    assert kilograms_left(done)[1] == pytest.approx(8.4, rel=1e-12)


def test_a_cylinder_stands_in_the_weather_until_it_is_connected() -> None:
    done = changing(4.0, swap(4.0, 0, 1))
    alone = night(
        4.0,
        weather=weather([-20.0, -25.0, -20.0, -15.0, -18.0], hours=4.0),
        cylinders=[cylinder()],
    )
    # Both march by themselves with the same steps from the same start.
    assert cylinder_states(done)[1, TEMPERATURE] == pytest.approx(
        cylinder_states(marched(alone))[0, TEMPERATURE], abs=1e-9
    )


def test_a_change_relights_a_stove_that_had_gone_out() -> None:
    made = night(
        4.0,
        weather=weather(-33.0),
        cylinders=[cylinder(temperature=-30.0), cylinder(side=-1, temperature=0.0)],
        burners=[burner(6000.0)],
        orders=[*lit(), swap(3.0, 0, 1)],
    )
    done = marched(made)
    told = [(round(seconds / HOUR, 6), what) for seconds, what, _ in events(done)]
    assert (3.0, FLAME) in told
    assert OUT in [what for hours, what in told if hours < 3.0]


# The record


def test_the_track_holds_every_row_and_ends_with_the_state() -> None:
    done = changing(4.0, swap(1.05, 0, 1))
    track = done.track
    assert track.seconds.size == 25
    assert np.isfinite(track.cylinders).all()
    # 1e-6: after the last row the books are settled to the end.
    assert track.cylinders[-1] == pytest.approx(cylinder_states(done), rel=1e-6)
    assert track.side[:, 0].tolist() == [0] * 7 + [-1] * 18
    assert track.side[:, 1].tolist() == [-1] * 7 + [0] * 18


def test_the_first_row_shows_a_change_made_at_the_start() -> None:
    assert changing(1.0, swap(0.0, 0, 1)).track.side[0].tolist() == [-1, 0]


def test_a_change_on_a_row_of_the_record_shows_in_that_row() -> None:
    track = changing(4.0, swap(1.0, 0, 1)).track
    assert track.side[5:7].tolist() == [[0, -1], [-1, 0]]
    assert np.isfinite(track.cylinders).all()


@pytest.mark.parametrize("seconds", [600.0 - 1e-7, 600.0 + 1e-7, 600.0 - 1e-10, 1800.0 - 5e-7])
def test_what_happens_just_beside_a_row_of_the_record_leaves_it_filled(seconds: float) -> None:
    made = night(
        1.0,
        weather=weather(),
        burners=[burner()],
        orders=[*lit(), (seconds, ORDER_BURNER, 0, 0.0), (seconds + 1e-7, ORDER_BURNER, 0, 1.0)],
        shelter=cabin(),
    )
    track = marched(made, grid=600.0).track
    assert np.isfinite(track.cylinders).all()
    assert np.isfinite(track.room).all()
    assert (np.diff(track.asked) > 0.0).all()


def test_fuel_in_the_record_never_grows() -> None:
    made = night(
        12.0,
        weather=weather([-20.0, -5.0], hours=12.0),
        cylinders=[cylinder(), cylinder(4.0)],
        burners=[burner(2500.0)],
        orders=lit(),
    )
    left = series_of(made, marched(made, grid=600.0)).left
    # 1e-9 kg: rounding of interpolated moles.
    assert (np.diff(left, axis=0) < 1e-9).all()


def test_the_record_changes_nothing_in_the_night() -> None:
    silent = changing(4.0, swap(1.05, 0, 1))
    made = night(
        4.0,
        weather=weather([-20.0, -25.0, -20.0, -15.0, -18.0], hours=4.0),
        cylinders=[cylinder(), cylinder(side=-1)],
        burners=[burner(2500.0)],
        orders=[*lit(), swap(1.05, 0, 1)],
    )
    assert marched(made).state.tolist() == silent.state.tolist()


def test_what_is_asked_for_counts_a_furnace_that_is_locked_out() -> None:
    made = night(
        3.0,
        weather=weather(-44.0),
        cylinders=[cylinder(temperature=-44.0)],
        burners=[furnace(4700.0)],
        shelter=cabin(),
    )
    asked = series_of(made, marched(made, grid=600.0)).asked
    assert asked[-1] == pytest.approx(4700.0, rel=1e-9)


def test_a_night_shorter_than_a_row_has_one_row() -> None:
    made = night(0.1, weather=weather(), burners=[burner()], orders=lit())
    series = series_of(made, marched(made, grid=600.0))
    assert series.seconds.tolist() == [0.0]
    assert np.isfinite(series.asked).all()


def test_lows_include_the_start() -> None:
    made = night(
        6.0, weather=weather(10.0, wind=5.0), cylinders=[cylinder(PROPANE[1] * 8.4, PROPANE)]
    )
    done = marched(made, grid=600.0)
    assert done.books.lowest_temperature[0] == celsius(-20.0)
    # Propane at -20 degC: 244.5 kPa (CoolProp 8).
    assert done.books.lowest_pressure[0] == pytest.approx(244.5e3, rel=1e-3)


# Where the heat comes from


def stores_of(**changes: float) -> Outcome:
    entry = cylinder(**({"blend": PROPANE} | changes))
    return marched(
        night(
            6.0,
            weather=weather(-20.0, humidity=0.9),
            cylinders=[entry],
            burners=[burner(3000.0)],
            orders=lit(),
        )
    )


def test_the_stores_add_up_to_the_heat_that_boiled_the_fuel() -> None:
    done = stores_of()
    latent = 404e3
    """Of propane at -22 degC, J/kg (CoolProp 8: 404.6 at -20, 408.0 at -25 degC)."""
    # 2 %: the vapor's own departure from its latent heat as the temperature moves.
    assert done.stores.sum() == pytest.approx(done.burned[0] * latent, rel=0.02)


def test_a_cylinder_colder_than_the_air_draws_on_liquid_and_wall() -> None:
    stores = stores_of().stores
    assert stores[SENSIBLE] > 0.0
    assert stores[WALL] > 0.0
    assert stores[FROST_STORE] > 0.0
    assert stores[HEATER] == 0.0


def test_the_vapor_store_takes_heat_while_liquid_makes_room_for_vapor() -> None:
    stores = stores_of().stores
    # 1.3 kg of liquid leave 2.4 L; the vapor above grows by 2.4 L x 5 kg/m3, less the fall of
    # its density with the temperature: a few grams of latent heat, small against the rest.
    assert abs(stores[VAPOR]) < 0.02 * stores.sum()


def test_a_heater_shows_as_a_store() -> None:
    stores = stores_of(heater=100.0).stores
    assert stores[HEATER] == pytest.approx(100.0 * 6.0 * HOUR, rel=1e-9)


def test_the_stores_stop_at_the_first_failure() -> None:
    entries = {"weather": weather(-20.0), "cylinders": [cylinder()], "burners": [burner(6000.0)]}
    whole = marched(night(12.0, orders=lit(), **entries))
    failed = whole.failures.seconds[VAPOR_LIMITED] / HOUR
    short = marched(night(failed, orders=lit(), **entries))
    assert whole.stores == pytest.approx(short.stores, rel=1e-6)


def test_causes_are_told_once_and_in_time() -> None:
    done = heated(12.0, -35.0, furnace(900.0), people=0.0)
    told = [(seconds, what) for seconds, what, _ in events(done) if what >= EVENT_CAUSE]
    assert [what for _, what in told] == [EVENT_CAUSE + HEAT_SHORT, EVENT_CAUSE + FREEZING]
    assert told[0][0] < told[1][0]


def test_empty_and_residue_and_vapor_limited_are_never_told_together() -> None:
    for done in (failing(48.0, 20.0, 3000.0), butane_in_frost()):
        supply = done.failures.seconds[[VAPOR_LIMITED, EMPTY, RESIDUE]]
        assert np.isfinite(supply).sum() == 1


def test_orders_at_the_same_time_as_a_timer_are_all_heard() -> None:
    """A set point that rises just as the minimum rest ends, and a stove lit at that instant."""
    done = heated(
        2.0,
        -10.0,
        furnace(4700.0, set_point=celsius(12.0)),
        burner(1500.0),
        orders=[
            (1.0 * HOUR, ORDER_SET_POINT, 0, celsius(20.0)),
            (1.0 * HOUR, ORDER_BURNER, 1, 1.0),
            (1.5 * HOUR, ORDER_BURNER, 1, 0.0),
            (1.5 * HOUR, ORDER_BURNER, 1, 1.0),
        ],
        temperature=celsius(18.0),
    )
    told = [(seconds, what, which) for seconds, what, which in events(done)]
    assert (1.0 * HOUR, FLAME, 1) in told
    assert (1.5 * HOUR, IDLE, 1) not in told
