"""From a trip to the records of the march: windows of the day, altitude, wind, fuel."""

from datetime import datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from trips import FURNACE, PEOPLE, SHELTER, STOVE, constant, cylinder, parsed, planned, trip_text

from coldsoak.choose.lay_out import (
    lay_orders,
    lay_out,
    moles_in,
    set_point_orders,
    sides,
    window_spans,
)
from coldsoak.night.records import ORDER_BURNER, ORDER_SET_POINT, ORDER_SWAP
from coldsoak.physics.fuel import MOLAR_MASS
from coldsoak.rig.trip import Trip
from coldsoak.weather.read import read_weather, weather_of

HOUR = 3600.0


def stove(*windows: tuple[str, str]) -> str:
    """A stove that burns in daily windows."""
    use = ", ".join(f'{{ from = "{begin}", to = "{end}" }}' for begin, end in windows)
    return STOVE.replace('"always"', f"[{use}]")


def furnace(*setbacks: tuple[str, str, int]) -> str:
    """A furnace at 18 degC with setbacks."""
    entries = ", ".join(
        f'{{ from = "{begin}", to = "{end}", set = "{degrees} degC" }}'
        for begin, end, degrees in setbacks
    )
    return FURNACE + f"setback = [{entries}]\n"


def flames(trip: Trip) -> list[tuple[float, int]]:
    """Hours at which the stove is lit (1) and put out (0)."""
    return [
        (float(order.seconds) / HOUR, int(order.value))
        for order in lay_orders(trip, ())
        if order.what == ORDER_BURNER
    ]


def settings(trip: Trip) -> list[tuple[float, int]]:
    """Hours and set points [degC] of the furnace."""
    return [
        (seconds / HOUR, round(value - 273.15))
        for seconds, _, _, value in set_point_orders(trip, 0, trip.appliances[0])
    ]


# Windows of the day; trips start at 16:00


def test_a_window_comes_every_day() -> None:
    trip = parsed(cylinder(), stove(("07:00", "07:30")), length="48 h")
    assert flames(trip) == [(15.0, 1), (15.5, 0), (39.0, 1), (39.5, 0)]


def test_a_window_over_midnight_is_one_piece() -> None:
    trip = parsed(cylinder(), stove(("22:00", "02:00")), length="24 h")
    assert flames(trip) == [(6.0, 1), (10.0, 0)]


def test_a_window_that_began_before_the_trip_is_open_at_its_start() -> None:
    trip = parsed(cylinder(), stove(("15:00", "17:00")), length="12 h")
    assert flames(trip) == [(0.0, 1), (1.0, 0)]


def test_a_window_over_midnight_that_began_the_day_before_is_open_at_the_start() -> None:
    trip = parsed(cylinder(), stove(("22:00", "02:00")), start="2026-01-17T01:00:00", length="12 h")
    assert flames(trip) == [(0.0, 1), (1.0, 0)]


def test_a_window_is_clipped_at_the_end() -> None:
    trip = parsed(cylinder(), stove(("20:00", "08:00")), length="10 h")
    assert flames(trip) == [(4.0, 1), (10.0, 0)]


def test_windows_that_touch_or_overlap_are_one_flame() -> None:
    touching = parsed(cylinder(), stove(("18:00", "19:00"), ("19:00", "20:00")), length="12 h")
    overlapping = parsed(cylinder(), stove(("18:00", "20:00"), ("18:30", "19:00")), length="12 h")
    assert flames(touching) == flames(overlapping) == [(2.0, 1), (4.0, 0)]


def test_windows_that_cover_the_day_never_put_the_flame_out() -> None:
    trip = parsed(cylinder(), stove(("00:00", "12:00"), ("12:00", "00:00")), length="72 h")
    assert flames(trip) == [(0.0, 1), (72.0, 0)]


def test_a_stove_that_always_burns_is_lit_once() -> None:
    assert flames(parsed(cylinder(), STOVE, length="72 h")) == [(0.0, 1)]


@given(
    st.integers(0, 1439),
    st.integers(0, 1439),
    st.integers(0, 1439),
    st.integers(10, 4000),
)
def test_a_window_lasts_its_share_of_every_whole_day(
    start: int, begin: int, end: int, minutes: int
) -> None:
    trip = parsed(cylinder(), start=f"2026-01-16T{start // 60:02}:{start % 60:02}:00")
    object.__setattr__(trip, "length", minutes * 60.0)
    spans = window_spans(trip, begin * 60.0, end * 60.0)
    open_minutes = {m for a, b in spans for m in range(round(a / 60.0), round(b / 60.0))}
    lasting = (end - begin) % 1440 or 1440
    expected = {m for m in range(minutes) if (start + m - begin) % 1440 < lasting}
    assert open_minutes == expected


# Setbacks


def test_a_setback_is_set_and_taken_back() -> None:
    trip = parsed(cylinder(), furnace(("22:00", "06:00", 12)), SHELTER, length="40 h")
    assert settings(trip) == [(6.0, 12), (14.0, 18), (30.0, 12), (38.0, 18)]


def test_one_setback_may_follow_another() -> None:
    trip = parsed(
        cylinder(), furnace(("22:00", "02:00", 14), ("02:00", "06:00", 10)), SHELTER, length="20 h"
    )
    assert settings(trip) == [(6.0, 14), (10.0, 10), (14.0, 18)]


def test_of_setbacks_that_overlap_the_one_that_began_last_counts() -> None:
    trip = parsed(
        cylinder(), furnace(("22:00", "06:00", 12), ("02:00", "04:00", 8)), SHELTER, length="20 h"
    )
    assert settings(trip) == [(6.0, 12), (10.0, 8), (12.0, 12), (14.0, 18)]


def test_a_setback_that_began_before_the_trip_holds_from_its_start() -> None:
    trip = parsed(
        cylinder(),
        furnace(("22:00", "06:00", 12)),
        SHELTER,
        start="2026-01-16T23:30:00",
        length="10 h",
    )
    assert settings(trip) == [(0.0, 12), (6.5, 18)]


def test_orders_come_in_the_order_of_time_and_a_change_before_what_it_relights() -> None:
    trip = parsed(cylinder(), cylinder("B"), stove(("18:00", "19:00")), length="12 h")
    orders = lay_orders(trip, [(2.0 * HOUR, 0, 1), (1.0 * HOUR, 1, 0)])
    assert [(order.seconds / HOUR, order.what) for order in orders] == [
        (1.0, ORDER_SWAP),
        (2.0, ORDER_SWAP),
        (2.0, ORDER_BURNER),
        (3.0, ORDER_BURNER),
    ]


def test_a_furnace_has_no_flame_orders_and_a_stove_no_set_points() -> None:
    trip = parsed(cylinder(), furnace(("22:00", "06:00", 12)), STOVE, SHELTER)
    kinds = {(int(order.what), int(order.which)) for order in lay_orders(trip, ())}
    assert kinds == {(ORDER_SET_POINT, 0), (ORDER_BURNER, 1)}


# Connections


def connected(arrangement: str, *roles: str) -> list[int]:
    tables = [cylinder(name, role=role) for name, role in zip("ABCDEF", roles, strict=False)]
    return sides(parsed(*tables, f'\n[supply]\narrangement = "{arrangement}"\n'))


def test_one_at_a_time_opens_the_first_supply_cylinder() -> None:
    assert connected("one at a time", "spare", "supply", "supply", "reserve") == [-1, 0, -1, -1]


def test_without_a_supply_cylinder_the_first_one_is_opened() -> None:
    assert connected("one at a time", "spare", "reserve") == [0, -1]


def test_together_opens_all_supply_cylinders() -> None:
    assert connected("together", "supply", "supply", "spare", "reserve") == [0, 0, -1, -1]


def test_a_changeover_has_two_sides() -> None:
    assert connected("automatic changeover", "supply", "reserve", "spare") == [0, 1, -1]


def test_something_is_connected_whatever_the_roles() -> None:
    assert connected("together", "spare", "spare") == [0, -1]
    assert connected("automatic changeover", "spare", "reserve") == [0, 1]
    assert connected("automatic changeover", "reserve", "reserve") == [0, 1]


# Place, altitude, fuel


def test_burners_burn_less_in_thin_air() -> None:
    high = parsed(cylinder(), STOVE, place='{ elevation = "3000 m" }')
    night = lay_out(high, weather_of(high), ())
    # Station pressure at 3000 m: 70.1 kPa (ICAO standard atmosphere); flow as its root.
    assert night.burners.heat[0] == pytest.approx(2000.0 * (70.1 / 101.325) ** 0.5, rel=0.002)
    assert night.supply.minimum[0] == pytest.approx(70.1e3 + 34.5e3, rel=0.002)


def test_inline_wind_is_the_wind_at_the_cylinder() -> None:
    trip = parsed(cylinder(), cylinder("B", more='place = "covered"'), weather=constant(-20.0, 4.0))
    night = lay_out(trip, weather_of(trip), ())
    assert night.weather.wind.tolist() == pytest.approx([4.0] * len(night.weather))
    assert night.cylinders.wind_factor.tolist() == [1.0, 1.0]


def test_a_locker_has_no_wind_whatever_the_weather() -> None:
    trip = parsed(cylinder(more='place = "locker"'), weather=constant(-20.0, 8.0))
    assert lay_out(trip, weather_of(trip), ()).cylinders.wind_factor[0] == 0.0


def test_wind_of_a_weather_file_is_reduced_to_the_cylinder(tmp_path) -> None:
    rows = "".join(f"2026-01-16T{hour:02}:00,-20,6,70,1000\n" for hour in range(24))
    head = "time [UTC],air [degC],wind [m/s],humidity [%],pressure [hPa]\n"
    (tmp_path / "air.csv").write_text(head + rows)
    trip = parsed(cylinder(), SHELTER, weather=constant(-20.0), length="4 h")
    weather = read_weather(
        tmp_path / "air.csv",
        start=datetime(2026, 1, 16, 8),
        length=4 * HOUR,
        place=trip.place,
        folder=tmp_path,
    )
    night = lay_out(trip, weather, ())
    assert night.cylinders.wind_factor[0] == 0.5
    assert night.cabin.wind_factor[0] == pytest.approx(0.7)


def test_the_worst_fuel_of_the_grade_is_in_the_cylinder() -> None:
    trip = parsed(cylinder(), fuel='"HD-5"')
    moles = lay_out(trip, weather_of(trip), ()).cylinders.moles[0]
    assert moles / moles.sum() == pytest.approx(trip.fuel.worst, abs=1e-12)
    assert trip.fuel.worst != trip.fuel.typical
    assert moles @ MOLAR_MASS == pytest.approx(18.5 * 0.45359237, rel=1e-9)


def test_an_empty_cylinder_holds_a_tenth_of_a_gram() -> None:
    assert moles_in(0.0, (0.0, 1.0, 0.0, 0.0, 0.0)) @ MOLAR_MASS == pytest.approx(1e-4)


def test_contents_start_as_warm_as_the_air_unless_the_trip_says_otherwise() -> None:
    trip = parsed(cylinder(), cylinder("B", more='temperature = "5 degC"'))
    temperatures = lay_out(trip, weather_of(trip), ()).cylinders.temperature
    assert temperatures.tolist() == pytest.approx([253.15, 278.15])


def test_a_room_starts_at_its_highest_set_point_else_as_the_air() -> None:
    heated = parsed(cylinder(), FURNACE, SHELTER)
    unheated = parsed(cylinder(), SHELTER)
    assert lay_out(heated, weather_of(heated), ()).cabin.temperature[0] == pytest.approx(291.15)
    assert lay_out(unheated, weather_of(unheated), ()).cabin.temperature[0] == pytest.approx(253.15)


def test_people_warm_the_room() -> None:
    trip = parsed(cylinder(), SHELTER, PEOPLE)
    assert lay_out(trip, weather_of(trip), ()).cabin.people[0] == pytest.approx(144.0)


US = trip_text(
    cylinder(contents="18.5 lb", more='temperature = "23 degF"'),
    FURNACE.replace("18 degC", "64.4 degF") + 'differential = "1.8 degF"\n',
    SHELTER,
    weather=(
        '{ temperature = "-4 degF", wind = "3.2808398950131235 ft/s", humidity = "70 %", '
        'sky = "clear" }'
    ),
    place='{ elevation = "3280.839895013123 ft" }',
    length="20 h",
)
SI = trip_text(
    cylinder(contents="8.391458845 kg", more='temperature = "-5 degC"'),
    FURNACE.replace("16000 Btu/h", "4689.137122755556 W") + 'differential = "1 K"\n',
    SHELTER,
    weather='{ temperature = "-20 degC", wind = "1 m/s", humidity = "70 %", sky = "clear" }',
    place='{ elevation = "1000 m" }',
    length="20 h",
)


def test_the_same_trip_in_other_units_has_the_same_plan() -> None:
    us, si = planned(US), planned(SI)
    assert us.plan.verdict == si.plan.verdict
    # 1e-6: the numbers above have 10 digits, and 100 cycles of a thermostat carry them on.
    assert us.plan.fuel.burned_kg == pytest.approx(si.plan.fuel.burned_kg, rel=1e-6)
    assert us.plan.cylinders[0].lowest_liquid_C == pytest.approx(
        si.plan.cylinders[0].lowest_liquid_C, abs=1e-4
    )
    assert np.allclose(us.series.left, si.series.left, rtol=1e-5)
