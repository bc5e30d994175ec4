"""The answer about the air: what it rests on, what it never says, and never less than the rules."""

import json
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from trips import FURNACE, PEOPLE, SHELTER, STOVE, constant, cylinder, parsed

from coldsoak.choose import heating
from coldsoak.choose.air import air_end, make_air
from coldsoak.choose.air_answer import AirAnswer, air_object, air_schema
from coldsoak.choose.air_run import AirRun, air_run, litres, nights, with_gas, with_openings
from coldsoak.choose.burning import Burning, burning
from coldsoak.choose.carbon_monoxide import SAYS_NOTHING
from coldsoak.choose.closed_room import closed_room
from coldsoak.choose.lay_air import breath, calm
from coldsoak.choose.openings import (
    CM2,
    SIZES,
    fixed_vents,
    least_volume,
    two_openings,
    unlit,
    unvented_input,
)
from coldsoak.choose.run import run
from coldsoak.errors import TripError
from coldsoak.night.march import CAUSES
from coldsoak.physics.combustion import OXYGEN_IN_AIR, gross_heating_value, water_per_kg
from coldsoak.physics.roomair import (
    OUTSIDE_CO2,
    approach,
    dry_moles,
    made_by_flame,
)
from coldsoak.rig.trip import Trip
from coldsoak.weather.read import weather_of

HEATER = FURNACE.replace("furnace", "room heater")
COOKING = STOVE.replace('"always"', '[{ from = "18:00", to = "18:40" }]')
CAMPER = (cylinder(), FURNACE, COOKING, SHELTER, PEOPLE)
CHILLY = constant(-10.0)
VENTS = """
openings = [
    { area = "60 cm2", height = "0.1 m" },
    { area = "60 cm2", height = "1.9 m" },
]
"""


def trip(*tables: str, **more: str) -> Trip:
    """A trip in a chill, with a furnace, a stove, a camper and two people if nothing is named."""
    return parsed(*(tables or CAMPER), **{"weather": CHILLY, **more})


@cache
def camper() -> AirAnswer:
    """The answer for the camper."""
    return answer(trip())


def answer(of: Trip) -> AirAnswer:
    return make_air(of, weather_of(of))


def air(of: Trip) -> AirRun:
    """The air of a trip in its own weather."""
    return air_run(of, weather_of(of), weather_of(of))


def test_the_answer_is_strict_json_and_keeps_its_schema() -> None:
    from jsonschema import Draft202012Validator

    written = json.loads(json.dumps(air_object(camper()), allow_nan=False))
    Draft202012Validator(air_schema()).validate(written)
    assert air_object(AirAnswer.model_validate(written)) == written


def test_there_is_no_air_without_a_shelter() -> None:
    with pytest.raises(TripError, match="no \\[shelter\\]"):
        answer(trip(cylinder(), STOVE))


def test_carbon_monoxide_is_never_a_number_of_the_trip() -> None:
    one, other = camper(), answer(trip(cylinder(), HEATER, SHELTER, PEOPLE))
    assert one.carbon_monoxide == other.carbon_monoxide
    assert one.carbon_monoxide.says == SAYS_NOTHING
    assert "never closed" in SAYS_NOTHING
    keys = set(air_object(one)) - {"carbon_monoxide"}
    assert not {key for key in keys if "monoxide" in key or key.startswith("co_")}


def test_every_limit_and_alarm_says_whether_it_was_read_or_is_remembered() -> None:
    told = camper().carbon_monoxide
    for row in (*told.alarms, *told.limits, *told.flame):
        assert row.status in ("published", "from memory")
    assert any(alarm.standard == "EN 50291" for alarm in told.alarms)
    assert any(limit.body == "NIOSH" for limit in told.limits)


def sleepers(wind: float = 2.0) -> Trip:
    """Two sleepers who give no heat in a room as cold as the outside: nothing ever changes."""
    people = PEOPLE.replace("22:00 .. 07:00", "00:00 .. 23:59") + 'heat = "0 W"\n'
    still = SHELTER + 'temperature = "-10 degC"\n'
    return trip(
        cylinder(), still, people, weather=constant(-10.0, wind), start="2026-01-16T01:00:00"
    )


def test_sleepers_follow_the_closed_form() -> None:
    ran = air(sleepers())
    assert ran.done.night.cabin.people[0] == 0.0
    people, line = sleepers().people, ran.night.line
    assert people is not None
    co2 = 2.0 * breath(people.co2_asleep)
    dry = co2 * (1.0 - 1.0 / 0.85)
    around = line.inside[0], line.outside[0]
    assert around[0] == pytest.approx(around[1])
    moles = dry_moles(ran.night.room.volume, line.inside[0], ran.track.air[-1, 2], line.pressure)
    fresh = line.exchange[0] * moles / ran.night.room.volume
    end = approach(OUTSIDE_CO2, OUTSIDE_CO2, co2, dry, fresh, moles, float(line.seconds[-1]))
    # the room takes up their water, which thins its dry air by less than 5e-3 on the way
    assert ran.book.highest_co2 == pytest.approx(end, rel=5e-3)


def test_more_wind_and_more_leaks_never_make_the_air_worse() -> None:
    calm_night, windy = air(sleepers(0.5)), air(sleepers(5.0))
    assert windy.book.highest_co2 < calm_night.book.highest_co2
    leaky = sleepers(0.5)
    assert leaky.shelter is not None
    leaky = replace(leaky, shelter=replace(leaky.shelter, gap_area=0.02))
    assert air(leaky).book.highest_co2 < calm_night.book.highest_co2


def test_a_flame_with_a_flue_gives_nothing_to_the_room() -> None:
    warm = trip(cylinder(), FURNACE, SHELTER)
    ran = air(warm)
    assert ran.done.outcome.burned[0] > 1.0
    assert ran.book.highest_co2 == pytest.approx(OUTSIDE_CO2)
    assert answer(warm).water_per_night.total_L == 0.0


@pytest.mark.parametrize("kind", ["grill", "fire pit", "generator"])
def test_what_burns_outside_gives_nothing_either(kind: str) -> None:
    outside = STOVE.replace('"stove"', f'"{kind}"', 2) + "vented = false\n"
    assert air(trip(cylinder(), outside, SHELTER)).book.highest_co2 == pytest.approx(OUTSIDE_CO2)


def test_unvented_flames_give_all_the_water_of_what_they_burn() -> None:
    heated = trip(cylinder(), HEATER, SHELTER)
    ran = air(heated)
    water = litres(ran.night.sources.flames, ran.night.line.seconds)
    blend = np.array(heated.fuel.worst)
    # the run burns a tank that never changes its blend, within its vapor's lighter share: 1 %
    burned = float(ran.done.outcome.burned[0])
    assert water == pytest.approx(burned * water_per_kg(blend), rel=0.01)


def test_the_log_tells_how_long_each_burner_burned() -> None:
    heated = trip(cylinder(), HEATER, COOKING, SHELTER)
    done = run(with_gas(heated), weather_of(heated), (), 600.0)
    for b in range(2):
        found = burning(done, b)
        lasting = np.diff(np.append(found.seconds, heated.length))
        heat = float((found.share * lasting).sum() * done.night.burners.heat[b])
        moles = done.night.cylinders.moles[0]
        value = gross_heating_value(moles / moles.sum())
        # the vapor's heating value is within 1 % of the liquid's
        assert heat == pytest.approx(float(done.outcome.burned[b]) * value, rel=0.01)


def test_a_log_that_was_full_is_filled_up_from_what_was_burned() -> None:
    heated = trip(cylinder(), HEATER, SHELTER)
    done = run(with_gas(heated), weather_of(heated), (), 600.0)
    log = done.outcome.log
    half = int(log.entries[0]) // 2
    short = log._replace(seconds=log.seconds[:half], what=log.what[:half], which=log.which[:half])
    cut = done._replace(outcome=done.outcome._replace(log=short))

    def lit(told: Burning) -> float:
        return float((told.share * np.diff(np.append(told.seconds, heated.length))).sum())

    whole, guessed = (lit(burning(each, 0)) for each in (done, cut))
    assert half < int(log.entries[0])
    assert guessed == pytest.approx(whole, rel=0.01)  # heating value of vapor and liquid


def test_gas_that_fails_in_the_plan_still_counts_for_the_air() -> None:
    always = HEATER.replace('"thermostat"', '"always"').replace('set = "18 degC"\n', "")
    poor = trip(cylinder(contents="0.5 lb"), always, SHELTER)
    assert np.isfinite(run(poor, weather_of(poor)).outcome.failures.seconds).any()
    ran = air(poor)
    assert not np.isfinite(ran.done.outcome.failures.seconds[CAUSES.index("empty")])
    assert ran.night.sources.flames[-1, 0] > 0.0


def test_the_air_of_a_plans_own_run_is_the_same_where_its_gas_lasts() -> None:
    of = trip()
    weather = weather_of(of)
    done = run(of, weather, (), 600.0)
    assert not np.isfinite(done.outcome.failures.seconds).any()
    end = air_end(of, weather, done)
    assert end is not None
    # thermostats drift apart in phase, and the inside is known every 10 min instead of every 2
    assert end.highest_co2_ppm == pytest.approx(camper().highest_co2_ppm, rel=0.01)
    assert end.lowest_o2_pct == pytest.approx(camper().lowest_o2_pct, rel=0.001)
    assert camper().windows is not None
    assert end.window_wet_hours == pytest.approx(camper().windows.wet_hours, abs=0.3)


def test_a_plan_without_a_shelter_has_no_air() -> None:
    bare = trip(cylinder(), STOVE)
    assert air_end(bare, weather_of(bare), run(bare, weather_of(bare), (), 600.0)) is None


def test_a_night_is_from_one_midnight_to_the_next() -> None:
    assert nights(trip()) == 1
    assert nights(trip(*CAMPER, length="64 h")) == 3
    assert nights(trip(*CAMPER, length="2 h")) == 1


def test_cooking_gives_its_water_while_the_stove_burns() -> None:
    cooked = trip()
    ran = air(cooked)
    line, made = ran.night.line, ran.night.sources.cooking
    assert litres(made, line.seconds) == pytest.approx(2 * 0.25 * 14 / 24)
    middles = 0.5 * (line.seconds[1:] + line.seconds[:-1]) / 3600.0 + 16.0
    at_stove = (middles > 18.0) & (middles < 18.0 + 2 / 3)
    assert made[~at_stove].sum() == 0.0
    assert (made[at_stove, 2] > 0.0).all()


def test_cooking_without_a_stove_is_spread_over_the_waking_hours() -> None:
    fed = trip(cylinder(), SHELTER, PEOPLE + 'cooking_water = "1 kg"\n')
    ran = air(fed)
    made = ran.night.sources.cooking
    assert litres(made, ran.night.line.seconds) == pytest.approx(2 * 14 / 24)
    middles = 0.5 * (ran.night.line.seconds[1:] + ran.night.line.seconds[:-1]) / 3600.0 + 16.0
    assert made[middles > 22.0].sum() == pytest.approx(made[middles > 31.0].sum())


# openings


@pytest.mark.parametrize(("kilowatts", "volume"), [(1.0, 4.83), (4.396, 21.24)])
def test_the_fuel_gas_code_asks_50_cubic_feet_for_1000_btu(kilowatts: float, volume: float) -> None:
    assert least_volume(1e3 * kilowatts) == pytest.approx(volume, rel=1e-3)


def test_the_code_asks_two_square_inches_for_4000_btu_in_a_small_room() -> None:
    assert two_openings(4000 * 0.29307107) == pytest.approx(2 * 0.0254**2)


@given(floor=st.floats(1.0, 60.0), larger=st.floats(0.0, 60.0))
def test_a_larger_floor_never_asks_for_less(floor: float, larger: float) -> None:
    assert fixed_vents(floor) <= fixed_vents(floor + larger)
    assert fixed_vents(floor) >= 85 * CM2 * (1 - 1e-9)


@pytest.mark.parametrize(
    "tables",
    [
        (cylinder(), SHELTER),
        (cylinder(), SHELTER, PEOPLE),
        CAMPER,
        (cylinder(), STOVE, SHELTER, PEOPLE),
        (cylinder(), HEATER, SHELTER.replace('"45 cm2"', '"2000 cm2"'), PEOPLE),
    ],
    ids=["nobody", "sleepers", "camper", "stove all night", "a drafty hut"],
)
def test_an_answer_never_goes_below_the_rules(tables: tuple[str, ...]) -> None:
    found = answer(trip(*tables)).openings
    asked = [rule.asked_cm2 for rule in found.rules if rule.asked_cm2 is not None]
    assert found.rule_cm2 == max(asked) >= 85.0
    for openings in (found.always_cm2, found.while_burning_cm2):
        assert openings is None or openings >= found.rule_cm2
    if found.always_cm2 is not None and found.while_burning_cm2 is not None:
        assert found.while_burning_cm2 >= found.always_cm2


def test_the_answer_is_the_least_size_that_keeps_the_air_fit_in_a_calm() -> None:
    of = trip()
    found = camper().openings
    assert found.for_flames_cm2 is not None
    size = found.for_flames_cm2 * CM2
    at = [round(each / CM2) for each in SIZES].index(round(found.for_flames_cm2))
    assert at > 0
    weather = weather_of(of)
    assert of.shelter is not None
    for tried, kept in ((size, True), (SIZES[at - 1], False)):
        opened = replace(of, shelter=with_openings(of.shelter, tried))
        ran = air_run(opened, weather, calm(weather))
        assert (ran.book.unfit == 0.0) == kept


def test_without_its_flames_the_air_needs_no_more_than_with_them() -> None:
    ran = air(trip())
    assert unlit(ran).highest_co2 < ran.book.highest_co2
    found = camper().openings
    assert found.for_people_cm2 is not None
    assert found.for_flames_cm2 is not None
    assert found.for_people_cm2 <= found.for_flames_cm2


def test_a_flame_that_no_opening_can_answer_is_to_be_put_out() -> None:
    fierce = STOVE.replace("2 kW", "60 kW")
    found = answer(trip(cylinder(size="100 lb", contents="60 lb"), fierce, SHELTER)).openings
    assert found.while_burning_cm2 is None
    assert "put them out" in found.why
    assert {rule.code: rule.kept for rule in found.rules}["room-volume"] is False
    assert any(rule.code == "two-openings" for rule in found.rules)


def test_vents_are_told_as_kept_only_where_they_are_listed() -> None:
    listed = SHELTER + VENTS
    small = listed.replace("60 cm2", "20 cm2")
    kept = [
        {rule.code: rule.kept for rule in answer(trip(cylinder(), text)).openings.rules}[
            "fixed-vents"
        ]
        for text in (SHELTER, listed, small)
    ]
    assert kept == [None, True, False]


def test_listed_vents_let_air_in() -> None:
    listed = SHELTER.replace('leakage = "45 cm2"\n', "") + VENTS
    one_height = listed.replace("0.1 m", "1.9 m")
    apart, level = (
        air(trip(cylinder(), FURNACE, text, weather=constant(-10.0, 0.0)))
        for text in (listed, one_height)
    )
    assert apart.night.line.exchange[1:].min() > 2e-3
    assert level.night.line.exchange.max() == pytest.approx(0.0, abs=1e-9)


def test_stricter_limits_ask_for_larger_openings() -> None:
    strict = answer(trip(*CAMPER, '\n[air]\nco2 = "2500 ppm"\n'))
    assert strict.limits.co2_ppm == pytest.approx(2500.0)
    assert strict.openings.for_flames_cm2 is not None
    assert camper().openings.for_flames_cm2 is not None
    assert strict.openings.for_flames_cm2 > camper().openings.for_flames_cm2


# a vented furnace beside an unvented heater


def test_the_unvented_heater_wets_and_fouls_the_room() -> None:
    vented, unvented = camper().heating
    assert (vented.by, unvented.by) == ("vented furnace", "unvented heater")
    assert unvented.flame_water_L > 5.0 * vented.flame_water_L
    assert unvented.highest_co2_ppm > vented.highest_co2_ppm
    assert unvented.lowest_o2_pct < vented.lowest_o2_pct
    assert unvented.wall_wet_hours >= vented.wall_wet_hours
    assert unvented.burned_kg < vented.burned_kg  # all its heat stays inside


def test_water_of_the_heater_is_its_fuels() -> None:
    heated = trip(cylinder(), FURNACE, SHELTER)
    vented, unvented = answer(heated).heating
    assert vented.flame_water_L == 0.0
    blend = np.array(heated.fuel.worst)
    assert unvented.flame_water_L == pytest.approx(
        unvented.burned_kg * water_per_kg(blend), rel=0.01
    )


def test_nothing_is_compared_where_nothing_heats() -> None:
    assert answer(trip(cylinder(), COOKING, SHELTER)).heating == ()


def test_a_burner_that_keeps_its_sort_keeps_its_share_of_heat() -> None:
    own = trip(cylinder(), FURNACE + 'room_share = "81 %"\n', SHELTER).appliances[0]
    assert heating.as_heater(own, True).room_share == pytest.approx(0.81)
    assert heating.as_heater(own, False).room_share == pytest.approx(0.9)


# with everything shut


def test_a_closed_room_is_that_of_the_closed_form() -> None:
    of = trip(cylinder(), STOVE, SHELTER)
    assert of.shelter is not None
    night = air(of).done.night
    shut = closed_room(of, of.shelter, night)
    heat = float(night.burners.heat[0])
    assert shut.flames_W == pytest.approx(heat)
    made = made_by_flame(heat, np.array(of.fuel.worst) / sum(of.fuel.worst))
    moles = dry_moles(of.shelter.volume, 293.15, 0.0, float(night.supply.station_pressure[0]))
    dry = made.co2 + made.oxygen
    assert shut.co2_limit_hours is not None
    assert shut.o2_18_hours is not None
    co2 = approach(OUTSIDE_CO2, OUTSIDE_CO2, made.co2, dry, 0.0, moles, 3600 * shut.co2_limit_hours)
    left = approach(
        OXYGEN_IN_AIR, OXYGEN_IN_AIR, made.oxygen, dry, 0.0, moles, 3600 * shut.o2_18_hours
    )
    assert co2 == pytest.approx(5e-3)
    assert left == pytest.approx(0.18)


def test_nobody_and_nothing_spends_no_air() -> None:
    shut = answer(trip(cylinder(), SHELTER)).closed_room
    assert (shut.co2_limit_hours, shut.o2_limit_hours, shut.o2_18_hours) == (None, None, None)


# ranges


def test_uncertain_inputs_make_it_a_range() -> None:
    of = trip(*CAMPER[:3], SHELTER.replace('"45 cm2"', '"20 cm2 .. 200 cm2"'), PEOPLE)
    found = answer(of)
    assert found.range is not None
    (leak,) = found.range.inputs
    assert leak.highest_co2_ppm_at_low > found.highest_co2_ppm > leak.highest_co2_ppm_at_high
    assert found.range.measure_first == leak.key == "shelter.leakage"
    assert found.range.most_co2_ppm == pytest.approx(leak.highest_co2_ppm_at_low)
    assert camper().range is None


# what goes with it


def test_cautions_are_those_of_the_flames() -> None:
    codes = {caution.code for caution in camper().cautions}
    assert {"unvented-flame", "unvented-asleep", "co-alarm"} <= codes
    sealed = {caution.code for caution in answer(trip(cylinder(), FURNACE, SHELTER)).cautions}
    assert "unvented-flame" not in sealed


def test_a_flame_of_no_stated_kind_is_told_to_be_taken_as_inside() -> None:
    burner = STOVE.replace('"stove"', '"burner"')
    found = answer(trip(cylinder(), burner, SHELTER))
    assert unvented_input(trip(cylinder(), burner, SHELTER)) == pytest.approx(2000.0)
    assert any("taken as burning inside" in note for note in found.notes)


@settings(max_examples=25)
@given(
    degrees=st.floats(-44.0, 20.0),
    wind=st.floats(0.0, 20.0),
    people=st.integers(0, 6),
    leak=st.integers(0, 600),
    pane=st.sampled_from([1.2, 2.8, 5.9]),
)
def test_no_camper_has_air_that_cannot_be(
    degrees: float, wind: float, people: int, leak: int, pane: float
) -> None:
    shelter = SHELTER.replace("45 cm2", f"{leak} cm2").replace("2.8", f"{pane}")
    of = trip(
        cylinder(),
        HEATER,
        COOKING,
        shelter,
        PEOPLE.replace("2", f"{people}", 1),
        weather=constant(round(degrees, 1), round(wind, 1)),
    )
    ran = air(of)
    co2, oxygen, vapor, on_window, on_wall = ran.track.air.T
    assert np.isfinite(ran.track.air).all()
    assert (co2 >= OUTSIDE_CO2 * (1 - 1e-6)).all()
    # no flame burns below the least oxygen
    assert ((oxygen > 0.11) & (oxygen <= OXYGEN_IN_AIR * (1 + 1e-6))).all()
    assert (vapor > 0.0).all()
    assert (on_window > -1e-6).all()
    assert (on_wall > -1e-6).all()
    book = ran.book
    assert 0.0 <= book.window_frozen <= book.window_wet <= of.length * (1 + 1e-9)
