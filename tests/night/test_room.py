"""The two-node room against its closed-form solution, and its turning points.

With steady weather, no leaks and steady heat the room is two linear equations; with a = (K + c)/C1,
b = c/C1, d = c/C2 (K envelope, c coupling, C1 and C2 light and heavy capacity) their solution is
the steady state plus two decaying exponentials (any text on linear systems).
"""

import math

import numpy as np
import pytest
from nights import HOUR, cabin, celsius, cylinder, night, weather

from coldsoak.night.records import Floats, Night
from coldsoak.night.room import (
    GAINED,
    HEAVY,
    INSIDE,
    LOST,
    Marks,
    Room,
    advance_room,
    begin_room,
)
from coldsoak.night.track import Track
from coldsoak.physics.shelter import leakage_conductance

TIGHT = 1e-3
"""A night of steps, each allowed this error [K]; many decay before the end, so it holds in sum."""

FLAME_HEAT = 1500.0

NOTHING_RECORDED = Track(
    np.zeros(0), np.zeros(0), np.zeros(0), np.zeros((0, 1, 12)), np.zeros((0, 1), np.int64)
)


def still_night(**changes: float) -> Night:
    """Steady -20 degC, no leaks, no sun; a cabin at 18 degC."""
    shelter = cabin(**({"leakage_area": 0.0, "sun_aperture": 0.0} | changes))
    return night(24.0, weather=weather(-20.0), shelter=shelter, cylinders=[cylinder()])


def no_marks() -> Marks:
    return Marks(np.full(2, np.nan), np.full(1, np.nan))


def moved(where: Night, hours: float, flame: float = FLAME_HEAT) -> Room:
    """The room after some hours of a steady flame."""
    room = begin_room(float(where.cabin.temperature[0]))
    advance_room(0.0, hours * HOUR, room, flame, where, no_marks(), TIGHT, NOTHING_RECORDED)
    return room


def closed_form(where: Night, hours: float, flame: float = FLAME_HEAT) -> Floats:
    """Temperatures of both nodes [K] after ``hours``, by eigenvectors."""
    shelter, air = where.cabin[0], float(where.weather.air[0])
    light, heavy = shelter.light_capacity, shelter.heavy_capacity
    system = np.array(
        [
            [-(shelter.ua_air + shelter.coupling) / light, shelter.coupling / light],
            [shelter.coupling / heavy, -shelter.coupling / heavy],
        ]
    )
    steady = air + (flame + shelter.people) / shelter.ua_air
    values, vectors = np.linalg.eig(system)
    start = np.linalg.solve(vectors, np.full(2, shelter.temperature - steady))
    return steady + vectors @ (start * np.exp(values * hours * HOUR))


@pytest.mark.parametrize("hours", [0.05, 0.5, 3.0, 12.0, 24.0])
@pytest.mark.parametrize("flame", [0.0, FLAME_HEAT, 4000.0])
def test_the_room_follows_its_closed_form(hours: float, flame: float) -> None:
    where = still_night()
    found = moved(where, hours, flame).state[: HEAVY + 1]
    # Ten steps' error at most: a step is about a tenth of the slow node's memory of 4 hours.
    assert found == pytest.approx(closed_form(where, hours, flame), abs=10 * TIGHT)


def test_a_tighter_tolerance_comes_closer() -> None:
    where = still_night()

    def miss(tolerance: float) -> float:
        room = begin_room(float(where.cabin.temperature[0]))
        marks = no_marks()
        advance_room(0.0, HOUR, room, FLAME_HEAT, where, marks, tolerance, NOTHING_RECORDED)
        return abs(room.state[INSIDE] - closed_form(where, 1.0)[0])

    assert miss(1e-6) < 0.1 * miss(1e-2)


def test_heat_gained_less_heat_lost_is_heat_kept() -> None:
    where = still_night()
    room, shelter = moved(where, 7.0), where.cabin[0]
    kept = shelter.light_capacity * (room.state[INSIDE] - shelter.temperature)
    kept += shelter.heavy_capacity * (room.state[HEAVY] - shelter.temperature)
    # The sums run through the same steps as the temperatures, so only rounding is left.
    assert room.state[GAINED] - room.state[LOST] == pytest.approx(kept, rel=1e-9)


def test_a_steady_flame_ends_at_gain_over_loss() -> None:
    where = still_night()
    room = moved(where, 24.0)
    lost = where.cabin[0].ua_air * (room.state[INSIDE] - celsius(-20.0))
    # 24 h are six times the memory of 4 h: e-6 of the first difference is left.
    assert lost == pytest.approx(FLAME_HEAT + where.cabin[0].people, rel=0.01)


def test_leaks_and_floor_and_sun_count() -> None:
    where = night(
        24.0 * 7,
        weather=weather(-20.0, hours=24.0 * 7, wind=3.0, sun_window=100.0),
        shelter=cabin(ua_ground=8.0, ground=celsius(2.0)),
        cylinders=[cylinder()],
    )
    inside = moved(where, 24.0 * 7).state[INSIDE]
    shelter = where.cabin[0]
    wind = shelter.wind_factor * 3.0
    leak = leakage_conductance(shelter.leakage_area, inside, celsius(-20.0), wind, 101325.0)
    lost = (shelter.ua_air + leak) * (inside - celsius(-20.0)) + 8.0 * (inside - celsius(2.0))
    # After a week the room stands still; what is left is the tolerance.
    assert lost == pytest.approx(FLAME_HEAT + shelter.people + 1.3 * 100.0, rel=1e-3)


def test_ground_without_a_temperature_is_as_cold_as_the_air() -> None:
    grounded = still_night(ua_air=30.0, ua_ground=11.0)
    whole = moved(still_night(), 5.0).state[INSIDE]
    assert moved(grounded, 5.0).state[INSIDE] == pytest.approx(whole, rel=1e-12)


def to_mark(where: Night, flame: float, *, falling: float = math.nan, rising: float = math.nan):
    """Time at which the room reaches a mark, and the room there."""
    room = begin_room(float(where.cabin.temperature[0]))
    marks = Marks(np.array([math.nan, falling]), np.array([rising]))
    reached = advance_room(0.0, 24.0 * HOUR, room, flame, where, marks, TIGHT, NOTHING_RECORDED)
    return reached, room


@pytest.mark.parametrize("degrees", [17.5, 10.0, 0.0])
def test_a_falling_room_stops_at_its_mark(degrees: float) -> None:
    reached, room = to_mark(still_night(), 0.0, falling=celsius(degrees))
    # The interpolant that finds the mark is as good as the step.
    assert room.state[INSIDE] == pytest.approx(celsius(degrees), abs=TIGHT)
    assert closed_form(still_night(), reached / HOUR, 0.0)[0] == pytest.approx(
        celsius(degrees), abs=10 * TIGHT
    )


def test_a_rising_room_stops_at_its_mark() -> None:
    _, room = to_mark(still_night(temperature=celsius(5.0)), 4000.0, rising=celsius(18.5))
    assert room.state[INSIDE] == pytest.approx(celsius(18.5), abs=TIGHT)


def test_a_room_that_rises_does_not_stop_at_a_falling_mark() -> None:
    where = still_night(temperature=celsius(5.0))
    reached, _ = to_mark(where, 4000.0, falling=celsius(10.0))
    assert reached == 24.0 * HOUR


def test_a_room_that_starts_below_a_falling_mark_does_not_stop_there() -> None:
    reached, _ = to_mark(still_night(temperature=celsius(-5.0)), 0.0, falling=celsius(0.0))
    assert reached == 24.0 * HOUR


def test_the_lowest_temperature_is_that_of_the_whole_way() -> None:
    where = night(
        24.0,
        weather=weather([5.0, 4.0, 1.0, 4.0, 5.0]),
        shelter=cabin(temperature=celsius(5.0), people=0.0),
        cylinders=[cylinder()],
    )
    room = moved(where, 24.0, 0.0)
    assert room.lowest[0] < room.state[INSIDE] - 1.0
    assert celsius(1.0) < room.lowest[0] < celsius(3.0)
