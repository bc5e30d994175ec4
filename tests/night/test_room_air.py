"""The air inside over a night: its steps, its books, and water that is somewhere."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from coldsoak.night.air import WET, Limits, Timeline, air_of
from coldsoak.physics.combustion import MOLAR_MASS_WATER, OXYGEN_IN_AIR
from coldsoak.physics.roomair import (
    GAS_CONSTANT,
    OUTSIDE_CO2,
    Air,
    Around,
    ColdSurface,
    Enclosure,
    approach,
    condensing,
    dry_moles,
    fresh_air,
    made_by_flame,
)

HOUR = 3600.0
PROPANE = np.array([0.0, 1.0, 0.0, 0.0, 0.0])
NO_PANE = ColdSurface(0.0, 1.0, 1.0)
PANE = ColdSurface(2.0, 0.13, 1.0 / 2.8 - 0.13)
WALL = ColdSurface(20.0, 0.25, 1.0 / 0.9 - 0.13)
CAMPER = Enclosure(19.0, PANE, WALL)
LIMITS = Limits(5e-3, 0.195)
PRESSURE = 95e3


def timeline(instants, inside, outside, flow, heats, water=0.0) -> Timeline:
    """A night in stretches; heats of a propane flame [W] and water [kg/s] in each."""
    count = len(instants)
    made = np.array([made_by_flame(heat, PROPANE) for heat in heats])
    made[:, 2] += water / MOLAR_MASS_WATER
    return Timeline(
        seconds=np.array(instants, dtype=float),
        inside=np.broadcast_to(np.asarray(inside, dtype=float), count).copy(),
        outside=np.broadcast_to(np.asarray(outside, dtype=float), count).copy(),
        vapor_pressure=np.full(count, 80.0),
        exchange=np.full(count, flow),
        made=made,
        pressure=PRESSURE,
    )


def evening() -> Timeline:
    """Cooking, a cold night, a warm morning that dries."""
    return timeline(
        [0.0, HOUR, 9 * HOUR, 14 * HOUR],
        [291.0, 293.0, 285.0, 293.0],
        [258.0, 256.0, 250.0, 262.0],
        4e-3,
        [1500.0, 0.0, 0.0],
        np.array([1e-4, 3e-5, 0.0]),
    )


def by_moles(line: Timeline, room: Enclosure) -> np.ndarray:
    """The same night as moles of nitrogen, oxygen, carbon dioxide and water and two films of
    water, by an independent solver: rows of `Air` at the ends of the stretches."""
    wet = line.vapor_pressure[0] / line.pressure
    inert = 1.0 - OXYGEN_IN_AIR - OUTSIDE_CO2
    outside = np.array([(1 - wet) * inert, (1 - wet) * OXYGEN_IN_AIR, (1 - wet) * OUTSIDE_CO2, wet])
    first = line.pressure * room.volume / (GAS_CONSTANT * line.inside[0])
    state = np.concatenate([first * outside, [0.0, 0.0]])
    found = []

    def rates(seconds, y, i):
        part = (seconds - line.seconds[i]) / (line.seconds[i + 1] - line.seconds[i])
        inside = (1 - part) * line.inside[i] + part * line.inside[i + 1]
        cold = (1 - part) * line.outside[i] + part * line.outside[i + 1]
        slope = (line.inside[i + 1] - line.inside[i]) / (line.seconds[i + 1] - line.seconds[i])
        around = Around(inside, cold, line.vapor_pressure[0], line.pressure, line.exchange[i])
        vapor = line.pressure * y[3] / y[:4].sum()
        window = condensing(vapor, y[4], room.window, around).rate
        wall = condensing(vapor, y[5], room.wall, around).rate
        taken = (window * room.window.area + wall * room.wall.area) / MOLAR_MASS_WATER
        co2, oxygen, water = line.made[i]
        born = np.array([0.0, oxygen, co2, water - taken])
        come = line.pressure * line.exchange[i] / (GAS_CONSTANT * cold)
        whole = line.pressure * room.volume / (GAS_CONSTANT * inside)
        leave = come + born.sum() + whole * slope / inside
        moles = come * outside + born - leave * y[:4] / y[:4].sum()
        return np.concatenate([moles, [window, wall]])

    for i in range(line.made.shape[0]):
        span = (line.seconds[i], line.seconds[i + 1])
        solved = solve_ivp(
            rates, span, state, args=(i,), rtol=1e-9, atol=1e-9, max_step=60.0, method="DOP853"
        )
        state = solved.y[:, -1]
        dry = state[:3].sum()
        found.append([state[2] / dry, state[1] / dry, state[3] / dry, state[4], state[5]])
    return np.array(found)


def test_an_evening_is_that_of_an_independent_solver():
    line = evening()
    ours, theirs = air_of(line, CAMPER, LIMITS).air[1:], by_moles(line, CAMPER)
    assert theirs[0, 3] > WET  # the pane does get wet
    # steps of 30 s are of fourth order, but of second order where a surface turns wet: 3e-7 found
    assert ours[:, :3] == pytest.approx(theirs[:, :3], rel=2e-6)
    assert ours[:, 3:] == pytest.approx(theirs[:, 3:], abs=2e-7)


def test_a_steady_room_follows_the_closed_form():
    line = timeline([0.0, HOUR, 3 * HOUR], 293.15, 273.15, 6e-3, [1000.0, 1000.0])
    line.made[:, 2] = 0.0
    bare = Enclosure(19.0, NO_PANE, NO_PANE)
    found = air_of(line, bare, LIMITS).air
    around = Around(293.15, 273.15, 80.0, PRESSURE, 6e-3)
    moles = dry_moles(19.0, 293.15, found[0, 2], PRESSURE)
    co2, oxygen, _ = line.made[0]
    # water that comes in and leaves hardly changes the room's dry air: it dries by what the flame
    # spends of the dry air, 1e-5 of it
    for i, seconds in ((1, HOUR), (2, 3 * HOUR)):
        exact = approach(
            OUTSIDE_CO2, OUTSIDE_CO2, co2, co2 + oxygen, fresh_air(around), moles, seconds
        )
        assert found[i, 0] == pytest.approx(exact, rel=1e-5)


def test_how_the_night_is_cut_into_stretches_does_not_matter():
    line = evening()
    every = np.arange(0.0, 14 * HOUR + 1.0, 100.0)
    at = np.searchsorted(line.seconds, every[:-1], side="right") - 1
    fine = line._replace(
        seconds=every,
        inside=np.interp(every, line.seconds, line.inside),
        outside=np.interp(every, line.seconds, line.outside),
        vapor_pressure=np.full(every.size, 80.0),
        exchange=np.full(every.size, 4e-3),
        made=line.made[at],
    )
    coarse, cut = (air_of(each, CAMPER, LIMITS) for each in (line, fine))
    assert cut.air[-1] == pytest.approx(coarse.air[-1], rel=1e-5, abs=1e-9)
    assert cut.book.highest_co2 == pytest.approx(coarse.book.highest_co2, rel=1e-7)


def test_the_book_keeps_the_worst_of_the_track():
    track = air_of(evening(), CAMPER, LIMITS)
    assert track.book.highest_co2 == pytest.approx(track.air[:, 0].max())
    assert track.book.highest_at == pytest.approx(HOUR)
    assert track.book.lowest_oxygen == pytest.approx(track.air[:, 1].min())


def test_the_first_moment_beyond_a_limit_is_that_of_the_closed_form():
    line = timeline([0.0, 2 * HOUR], 293.15, 293.15, 0.0, [1000.0])
    line.made[:, 2] = 0.0
    line.vapor_pressure[:] = 0.0
    book = air_of(line, Enclosure(20.0, NO_PANE, NO_PANE), LIMITS).book
    co2, oxygen, _ = line.made[0]
    moles = dry_moles(20.0, 293.15, 0.0, PRESSURE)
    exact = approach(OUTSIDE_CO2, OUTSIDE_CO2, co2, co2 + oxygen, 0.0, moles, book.unfit_at)
    # it is seen at the end of a step of 30 s, in which it rises by 50 ppm
    assert 5e-3 < exact < 5.06e-3
    assert book.unfit == pytest.approx(2 * HOUR - book.unfit_at + 30.0)


def test_a_pane_that_is_warmer_than_the_dew_point_stays_dry():
    line = timeline([0.0, 12 * HOUR], 293.15, 283.15, 2e-2, [0.0])
    track = air_of(line, CAMPER, LIMITS)
    assert track.book.window_wet == 0.0
    assert (track.air[:, 3] == 0.0).all()


def test_a_wet_pane_dries_and_never_holds_less_than_nothing():
    wet = timeline([0.0, HOUR, 30 * HOUR], 293.15, 263.15, 6e-3, [3000.0, 0.0])
    track = air_of(wet, CAMPER, LIMITS)
    assert track.air[1, 3] > WET
    assert 0.0 <= track.air[2, 3] < 1e-6
    assert HOUR / 2 < track.book.window_wet < 30 * HOUR
    assert track.book.window_frozen == 0.0


def test_ice_is_counted_where_the_pane_is_below_freezing():
    single = Enclosure(19.0, ColdSurface(2.0, 0.13, 1.0 / 5.9 - 0.13), WALL)
    cold = timeline([0.0, 6 * HOUR], 288.15, 248.15, 4e-3, [0.0], np.array([4e-5]))
    book = air_of(cold, single, LIMITS).book
    assert book.window_frozen == book.window_wet > 5 * HOUR
    assert book.coldest_window < 273.15 < book.coldest_wall


def test_a_room_without_windows_has_none_that_are_wet():
    book = air_of(evening(), Enclosure(19.0, NO_PANE, WALL), LIMITS).book
    assert book.window_wet == 0.0


def test_the_first_air_is_that_of_outside():
    first = Air(*air_of(evening(), CAMPER, LIMITS).air[0])
    assert (first.co2, first.oxygen) == (OUTSIDE_CO2, OXYGEN_IN_AIR)
