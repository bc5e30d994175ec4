"""The march agrees with the same model written in one page of ordinary Python.

``night/plain.py`` takes Euler steps of a few seconds. Its own error is of first order in them: half
a step of every rate, and up to a step in the time of every event, which adds up over the cycles of
a thermostat to a few parts in a thousand. The tolerances below are that error, not the march's.
"""

from functools import cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import pytest
from nights import (
    HALF,
    HOUR,
    PROPANE,
    WITH_ETHANE,
    burner,
    cabin,
    celsius,
    cylinder,
    events,
    furnace,
    kilograms_left,
    lit,
    marched,
    night,
    weather,
)

from coldsoak.night.burner import LOCKED
from coldsoak.night.cylinder import TEMPERATURE
from coldsoak.night.march import EVENT_CAUSE, FREEZING, HEAT_SHORT, Outcome
from coldsoak.night.plain import Plain, march_plainly
from coldsoak.night.records import ORDER_BURNER, ORDER_SET_POINT, ORDER_SWAP, Night

EVERY = 60.0
"""Between the rows compared [s]."""

WINDOWS = [
    (begin * 60.0, ORDER_BURNER, 0, 1.0) if on else (begin * 60.0, ORDER_BURNER, 0, 0.0)
    for begin, on in ((10, True), (60, False), (90, True), (200, False))
]

STEADY: dict[str, tuple[Night, float]] = {
    "one cylinder": (
        night(6.0, weather=weather([-20.0, -24.0, -18.0]), burners=[burner(3000.0)], orders=lit()),
        5.0,
    ),
    "two together, one fuller and warmer": (
        night(
            5.0,
            weather=weather(-15.0),
            cylinders=[cylinder(4.0), cylinder(8.4, temperature=-10.0)],
            burners=[burner(4500.0)],
            orders=lit(),
        ),
        5.0,
    ),
    "automatic changeover": (
        night(
            5.0,
            weather=weather(-20.0),
            cylinders=[cylinder(3.0), cylinder(8.4, side=1)],
            burners=[burner(3500.0)],
            orders=lit(),
            changeover=85e3,
        ),
        5.0,
    ),
    "half butane": (
        night(
            5.0,
            weather=weather(5.0),
            cylinders=[cylinder(3.0, HALF, temperature=5.0)],
            burners=[burner(2500.0)],
            orders=lit(),
        ),
        5.0,
    ),
    "a blend with ethane": (
        night(
            5.0,
            weather=weather(-20.0),
            cylinders=[cylinder(5.0, WITH_ETHANE)],
            burners=[burner(2500.0)],
            orders=lit(),
        ),
        5.0,
    ),
    "a stove by the clock, in sun and wind, under a clear sky": (
        night(
            5.0,
            weather=weather([-20.0, -12.0, -5.0], hours=5.0, wind=[0.0, 6.0, 2.0], sky_drop=20.0),
            burners=[burner(4000.0)],
            orders=WINDOWS,
            sun=150.0,
        ),
        5.0,
    ),
    "a change of cylinders": (
        night(
            4.0,
            weather=weather(-20.0),
            cylinders=[cylinder(temperature=-10.0), cylinder(side=-1, temperature=5.0)],
            burners=[burner(3000.0)],
            orders=[*lit(), (2.0 * HOUR, ORDER_SWAP, 0, 1.0)],
        ),
        5.0,
    ),
    "a heater with a thermostat": (
        night(
            5.0,
            weather=weather(-25.0),
            cylinders=[cylinder(heater=300.0, heater_below=celsius(-12.0), temperature=-25.0)],
            burners=[burner(1500.0)],
            orders=lit(),
        ),
        5.0,
    ),
    "under a cover": (
        night(
            5.0,
            weather=weather(-10.0),
            cylinders=[cylinder(temperature=-10.0, cover=0.17, wind_factor=0.0, sky_view=0.0)],
            burners=[burner(1500.0)],
            orders=lit(),
        ),
        5.0,
    ),
    "a lying tank": (
        night(
            5.0,
            weather=weather(-25.0),
            cylinders=[
                cylinder(
                    90.0,
                    liters=378.5,
                    diameter=0.60,
                    thickness=0.0036,
                    upright=False,
                    temperature=-25.0,
                )
            ],
            burners=[burner(9000.0)],
            orders=lit(),
        ),
        5.0,
    ),
    "damp air that turns to frost": (
        night(
            5.0,
            weather=weather(1.0, humidity=0.95),
            cylinders=[cylinder(temperature=1.0)],
            burners=[burner(4000.0)],
            orders=lit(),
        ),
        5.0,
    ),
    "a canister burned dry": (
        night(
            1.5,
            weather=weather(15.0),
            cylinders=[
                cylinder(
                    0.075,
                    PROPANE,
                    liters=0.938,
                    diameter=0.108,
                    thickness=0.0004,
                    temperature=15.0,
                )
            ],
            burners=[burner(900.0)],
            orders=lit(),
        ),
        1.0,
    ),
}

HEATED: dict[str, tuple[Night, float]] = {
    "a furnace holds": (
        night(4.0, weather=weather(-20.0), burners=[furnace()], shelter=cabin()),
        2.0,
    ),
    "a furnace with a setback, and a stove": (
        night(
            4.0,
            weather=weather([-20.0, -14.0], sun_window=[0.0, 300.0]),
            burners=[furnace(), burner(1900.0, room_share=0.9)],
            orders=[
                (0.5 * HOUR, ORDER_BURNER, 1, 1.0),
                (0.9 * HOUR, ORDER_BURNER, 1, 0.0),
                (1.0 * HOUR, ORDER_SET_POINT, 0, celsius(12.0)),
                (2.5 * HOUR, ORDER_SET_POINT, 0, celsius(18.0)),
            ],
            shelter=cabin(),
        ),
        2.0,
    ),
    "a furnace locks out and the room freezes": (
        night(
            6.0,
            weather=weather(-32.0),
            cylinders=[cylinder(3.0, temperature=-28.0)],
            burners=[furnace(5500.0)],
            shelter=cabin(people=0.0),
        ),
        2.0,
    ),
    "a change of cylinders relights the furnace": (
        night(
            4.0,
            weather=weather(-32.0),
            cylinders=[cylinder(3.0, temperature=-28.0), cylinder(side=-1, temperature=-15.0)],
            burners=[furnace(5500.0)],
            orders=[(2.5 * HOUR, ORDER_SWAP, 0, 1.0)],
            shelter=cabin(),
        ),
        2.0,
    ),
    "a room heater beside a furnace": (
        night(
            3.0,
            weather=weather(-25.0),
            cylinders=[cylinder(temperature=-15.0), cylinder(temperature=-15.0)],
            burners=[furnace(3000.0), furnace(1500.0, set_point=celsius(17.0), room_share=0.9)],
            shelter=cabin(),
        ),
        2.0,
    ),
}

ALL = STEADY | HEATED


class Both(NamedTuple):
    """The same night told twice."""

    night: Night
    plain: Plain
    march: Outcome


@cache
def both(name: str) -> Both:
    """March through a night of either kind, once."""
    where, step = ALL[name]
    plain = march_plainly(where, step, round(EVERY / step))
    return Both(where, plain, marched(where, grid=EVERY))


steady = pytest.mark.parametrize("name", STEADY)
heated = pytest.mark.parametrize("name", HEATED)
every = pytest.mark.parametrize("name", ALL)


def burner_events(told: Both) -> tuple[list[tuple[int, int]], list[tuple[int, int]]]:
    """What the burners did, in order, by the march and by the page: (burner, phase)."""
    compiled = [(which, what) for _, what, which in events(told.march) if what < EVENT_CAUSE]
    return compiled, [(which, what) for _, which, what in told.plain.events]


def lost(outcome: Outcome) -> float:
    """When the supply first failed [s], infinite if never."""
    return float(min(outcome.failures.seconds[:HEAT_SHORT]))


@steady
def test_liquid_temperatures_stay_within_a_tenth_of_a_kelvin(name: str) -> None:
    told = both(name)
    plain = np.array([row[2] for row in told.plain.rows])
    march = told.march.track.cylinders[:, :, TEMPERATURE]
    # A minute before the supply fails there is still liquid, also in the canister.
    until = told.march.track.seconds < lost(told.march) - EVERY
    assert march[until] == pytest.approx(plain[until], abs=0.1)


@steady
def test_fuel_left_agrees_all_the_way(name: str) -> None:
    told = both(name)
    plain = np.array([row[4] for row in told.plain.rows][-1])
    # 0.2 % of what was burned, and half a step's draw of a stove.
    step = ALL[name][1]
    allowed = 0.002 * told.march.burned.sum() + 0.5 * step * 4500.0 / 50e6
    assert kilograms_left(told.march) == pytest.approx(plain, abs=allowed)


@every
def test_the_burners_do_the_same_in_the_same_order(name: str) -> None:
    compiled, plain = burner_events(both(name))
    # A thermostat's last cycle may end just before or just after the end of the night.
    shared = min(len(compiled), len(plain))
    assert abs(len(compiled) - len(plain)) <= 1
    assert compiled[:shared] == plain[:shared]


@heated
def test_every_burner_burns_the_same(name: str) -> None:
    told = both(name)
    # 0.5 %: events of the page are up to a step of 2 s late, some 40 of them in 4 h.
    assert told.march.burned == pytest.approx(told.plain.burned, rel=0.005)


@heated
def test_the_room_is_as_warm_on_average(name: str) -> None:
    told = both(name)
    plain = np.mean([row[1] for row in told.plain.rows])
    # 0.05 K: cycles drift apart in phase, so only their mean is comparable.
    assert told.march.track.room.mean() == pytest.approx(plain, abs=0.05)


@heated
def test_the_lowest_temperature_inside_agrees(name: str) -> None:
    told = both(name)
    plain = min(row[1] for row in told.plain.rows)
    # 0.15 K: the page's row a minute apart may miss the lowest point of a cycle.
    assert told.march.lowest_inside == pytest.approx(plain, abs=0.15)


@every
def test_the_supply_fails_at_the_same_time_or_not_at_all(name: str) -> None:
    told = both(name)
    if told.plain.failed is None:
        assert lost(told.march) == np.inf
    else:
        # 1 %: the page's cycles are late, and a furnace's failure waits for one.
        assert lost(told.march) == pytest.approx(told.plain.failed, rel=0.01, abs=10.0)


@every
def test_nothing_in_the_track_is_missing(name: str) -> None:
    track = both(name).march.track
    assert np.isfinite(track.cylinders).all()
    assert np.isfinite(track.asked).all()
    assert np.isfinite(track.room).all() == both(name).night.heated
    assert (np.diff(track.asked) >= 0.0).all()


def test_the_nights_are_worth_comparing() -> None:
    """Some fail, some lock out, some change cylinders, one freezes."""
    assert lost(both("a canister burned dry").march) < np.inf
    assert lost(both("a furnace locks out and the room freezes").march) < np.inf
    frozen = both("a furnace locks out and the room freezes").march.failures.seconds[FREEZING]
    assert frozen < np.inf
    relit = [
        what for _, what, _ in events(both("a change of cylinders relights the furnace").march)
    ]
    assert LOCKED in relit
    assert relit.index(LOCKED) < len(relit) - 3
    share = kilograms_left(both("automatic changeover").march)
    assert share[1] < 8.39
    assert all(a[0] < b[0] for a, b in pairwise(both("one cylinder").plain.rows))
