"""When to change cylinders: in time, awake, in the order of the file, and only if it helps."""

import pytest
from trips import FURNACE, PEOPLE, SHELTER, STOVE, constant, cylinder, parsed, plan

from coldsoak.choose.answer import Plan
from coldsoak.choose.swaps import LEAD, clock, last_awake, sleeping_hours

HOUR = 3600.0
DAY_SHIFT = '\n[people]\ncount = 1\nasleep = "10:00 .. 18:00"\n'


def stove(kilowatts: float) -> str:
    return STOVE.replace("2 kW", f"{kilowatts} kW")


def spares(*names: str, contents: str = "18.5 lb") -> str:
    return "".join(cylinder(name, contents=contents, role="spare") for name in names)


def supply(arrangement: str) -> str:
    return f'\n[supply]\narrangement = "{arrangement}"\n'


def told(of: Plan) -> list[tuple[str, str]]:
    """Changes as (off, on)."""
    return [(swap.from_, swap.to) for swap in of.swaps]


TWO = (cylinder(), spares("B"), stove(3.0), SHELTER, PEOPLE)
MANY = (cylinder(contents="8 lb"), spares("B", "C", "D", "E", contents="8 lb"), stove(2.2))


def test_nothing_is_changed_where_nothing_fails() -> None:
    made = plan(cylinder(), spares("B"), STOVE)
    assert made.swaps == ()
    assert made.as_packed_failure is None


def test_a_trip_that_fails_as_packed_holds_with_a_change() -> None:
    made = plan(*TWO, length="40 h")
    assert made.as_packed_failure.cause == "vapor-limited"
    assert made.first_failure is None
    assert told(made) == [("A", "B")]


def test_a_change_comes_an_hour_before_the_failure_in_waking_hours() -> None:
    made = plan(*TWO, length="40 h")
    failure = made.as_packed_failure.hours
    assert made.swaps[0].hours == pytest.approx(failure - LEAD / HOUR, abs=1e-6)
    assert "T22" not in made.swaps[0].time


def test_a_change_that_would_fall_into_the_night_is_made_before_bed() -> None:
    """The cylinder would fail at about 2:00."""
    made = plan(cylinder(), spares("B"), stove(4.5), SHELTER, PEOPLE, start="2026-01-16T15:00:00")
    late = made.as_packed_failure.time[11:13]
    assert late in ("00", "01", "02", "03", "04")
    assert made.swaps[0].time == "2026-01-16T22:00"
    assert made.swaps[0].why == "A would stop feeding while people sleep"


def test_who_sleeps_by_day_changes_before_the_day() -> None:
    made = plan(
        cylinder(), spares("B"), stove(4.5), SHELTER, DAY_SHIFT, start="2026-01-16T04:00:00"
    )
    assert made.swaps[0].time == "2026-01-16T10:00"


def test_without_people_the_night_is_taken_as_from_ten_to_seven() -> None:
    made = plan(cylinder(), spares("B"), stove(4.5), start="2026-01-16T15:00:00")
    assert made.swaps[0].time == "2026-01-16T22:00"
    assert any("22:00 to 07:00" in note for note in made.notes)


@pytest.mark.parametrize("length", ["30 h", "50 h", "70 h", "90 h"])
@pytest.mark.parametrize("kilowatts", [2.2, 3.0, 4.0])
def test_nobody_gets_up_for_a_change(length: str, kilowatts: float) -> None:
    made = plan(cylinder(), spares("B", "C", "D"), stove(kilowatts), SHELTER, PEOPLE, length=length)
    trip = parsed(cylinder(), stove(kilowatts), SHELTER, PEOPLE, length=length)
    begin, end = sleeping_hours(trip)
    for swap in made.swaps:
        into_the_night = (clock(trip, swap.hours * HOUR) - begin) % 86400.0
        # At bedtime somebody is still up.
        assert into_the_night == pytest.approx(0.0, abs=1e-6) or into_the_night >= 86400.0 - (
            begin - end
        )


def test_spares_are_used_in_the_order_of_the_file() -> None:
    made = plan(*MANY, SHELTER, PEOPLE, length="90 h", weather=constant(-5.0))
    assert told(made) == [("A", "B"), ("B", "C"), ("C", "D"), ("D", "E")]
    hours = [swap.hours for swap in made.swaps]
    assert hours == sorted(hours)
    assert made.first_failure is None


def test_changes_stop_with_the_spares() -> None:
    made = plan(
        *MANY[:1], spares("B", contents="8 lb"), MANY[2], length="90 h", weather=constant(-5)
    )
    assert told(made) == [("A", "B")]
    assert made.verdict == "fails"
    assert made.first_failure.hours > made.as_packed_failure.hours


def test_a_spare_that_does_not_help_is_left_out() -> None:
    empty = cylinder("B", contents="0 kg", role="spare")
    made = plan(cylinder(), empty, spares("C"), stove(3.0), SHELTER, PEOPLE, length="40 h")
    assert told(made) == [("A", "C")]


def test_a_room_that_freezes_is_no_reason_to_change() -> None:
    made = plan(
        cylinder(), spares("B"), SHELTER + 'temperature = "10 degC"\n', weather=constant(-10.0)
    )
    assert made.first_failure.cause == "freezing"
    assert made.swaps == ()


def test_a_changeover_is_refilled_on_the_side_that_lasts_longest_with_it() -> None:
    made = plan(
        cylinder(),
        cylinder("B", role="reserve"),
        spares("C"),
        stove(4.0),
        SHELTER,
        PEOPLE,
        supply("automatic changeover"),
        length="64 h",
    )
    assert told(made) == [("A", "C")]
    assert made.first_failure is None


def test_of_cylinders_open_together_the_emptier_one_is_changed() -> None:
    made = plan(
        cylinder("A", contents="18 lb"),
        cylinder("B", contents="6 lb"),
        spares("C"),
        stove(5.0),
        SHELTER,
        PEOPLE,
        supply("together"),
        length="40 h",
    )
    assert told(made) == [("B", "C")]


def test_a_trip_that_starts_at_night_changes_nothing_before_it_starts() -> None:
    made = plan(
        cylinder(),
        spares("B"),
        stove(6.0),
        SHELTER,
        PEOPLE,
        start="2026-01-16T23:00:00",
        length="10 h",
    )
    assert all(swap.hours >= 0.0 for swap in made.swaps)
    assert made.verdict == "fails"


def test_a_furnace_is_kept_warm_through_the_night_by_a_change_before_bed() -> None:
    made = plan(
        cylinder(contents="5 lb"),
        spares("B"),
        FURNACE,
        SHELTER,
        PEOPLE,
        length="16 h",
        weather=constant(-20.0),
    )
    assert made.as_packed_failure is not None
    assert made.first_failure is None
    assert made.shelter.lowest_inside_C > 14.0


def test_the_last_waking_time_is_now_by_day_and_bedtime_by_night() -> None:
    trip = parsed(cylinder(), PEOPLE, SHELTER, start="2026-01-16T16:00:00", length="40 h")
    assert last_awake(trip, 4 * HOUR) == 4 * HOUR
    assert last_awake(trip, 6 * HOUR) == 6 * HOUR
    assert last_awake(trip, 9 * HOUR) == 6 * HOUR
    assert last_awake(trip, 15 * HOUR - 1.0) == 6 * HOUR
    assert last_awake(trip, 15 * HOUR) == 15 * HOUR
    assert last_awake(trip, -5 * HOUR) == 0.0
