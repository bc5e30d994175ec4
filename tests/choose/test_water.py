"""Water of a trip, from the temperatures of a run."""

import numpy as np
import pytest

from coldsoak.choose.water import Air, follow_water
from coldsoak.rig.water import Pipe, Tank, Water

HOUR = 3600.0
SECONDS = np.arange(0.0, 48.0 * HOUR + 1.0, 600.0)
FAILED = np.where(SECONDS < 10 * HOUR, 18.0, 18.0 - 3.0 * (SECONDS / HOUR - 10.0))
"""A room that cools by 3 K/h from the tenth hour on, invented [C]."""

AIR = Air(
    seconds=SECONDS,
    inside=np.maximum(FAILED, -15.0) + 273.15,
    outside=np.full(SECONDS.size, 258.15),
    wind=np.full(SECONDS.size, 3.0),
    pressure=95e3,
)
PIPE = Water("pipe", Pipe(0.012), 0.0, True, 0.5)


def test_the_pipe_freezes_hours_after_the_heat_is_lost():
    found = follow_water(PIPE, AIR)
    # the air is at 0 C after 16 h; the pipe lags and is ice some hours later
    assert found.cold_hours is not None
    assert found.frozen_hours is not None
    assert 16.0 < found.cold_hours < 17.0
    assert found.cold_hours < found.frozen_hours < 22.0


def test_the_tank_outlasts_the_pipe():
    tank = Water("tank", Tank(0.08, 1.3), 0.2, True, 0.5)
    found = follow_water(tank, AIR)
    pipe = follow_water(PIPE, AIR)
    assert found.cold_hours > pipe.cold_hours
    assert found.frozen_hours is None
    assert 0.0 < found.most_ice < 0.5


def test_water_outside_is_in_the_wind_from_the_start():
    still = follow_water(
        Water("out", Pipe(0.05), 0.05, False, 1.0), AIR._replace(wind=AIR.wind * 0.0)
    )
    windy = follow_water(Water("out", Pipe(0.05), 0.05, False, 1.0), AIR)
    assert windy.cold_hours == still.cold_hours == 0.0
    assert windy.frozen_hours < still.frozen_hours


def test_a_warm_room_keeps_it_wet():
    found = follow_water(PIPE, AIR._replace(inside=np.full(SECONDS.size, 278.15)))
    assert (found.cold_hours, found.frozen_hours, found.most_ice) == (None, None, 0.0)


def test_more_ice_takes_longer():
    times = [
        follow_water(PIPE.__class__("p", Pipe(0.03), 0.1, True, s), AIR).frozen_hours
        for s in (0.1, 0.5, 0.9)
    ]
    assert times == sorted(times)
    assert times[0] < times[2]


@pytest.mark.parametrize("name", ["sink", "shower"])
def test_it_keeps_its_name(name):
    assert follow_water(Water(name, Pipe(0.012), 0.0, True, 0.5), AIR).name == name
