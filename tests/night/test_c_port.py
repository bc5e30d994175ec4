"""The march and its port to C, which the benchmark times it against, do the same arithmetic.

If they did not, the ratio of their times would say nothing.
"""

from collections.abc import Callable
from pathlib import Path

import c_march
import numpy as np
import pytest
from c_march import InC
from nights import (
    BUTANE,
    HALF,
    PROPANE,
    TOLERANCE,
    WITH_ETHANE,
    burner,
    cabin,
    celsius,
    cylinder,
    furnace,
    lit,
    marched,
    night,
    weather,
)

from coldsoak.night.burner import LOCKED
from coldsoak.night.march import (
    EMPTY,
    EVENT_SWAP,
    FREEZING,
    HEAT_SHORT,
    RESIDUE,
    VAPOR_LIMITED,
    Outcome,
)
from coldsoak.night.records import ORDER_BURNER, ORDER_SET_POINT, ORDER_SWAP, Night

Port = Callable[[Night, float], InC]

HOUR = 3600.0

NIGHTS: dict[str, Night] = {
    "a thermostat, set back": night(
        24.0,
        weather=weather([-20.0, -8.0, -26.0], wind=[0.5, 4.0, 1.0], sun_window=[0.0, 200.0, 0.0]),
        cylinders=[cylinder(), cylinder(5.0, temperature=-5.0)],
        burners=[furnace(), burner(1500.0)],
        orders=[
            (4 * HOUR, ORDER_SET_POINT, 0, celsius(12.0)),
            (12 * HOUR, ORDER_SET_POINT, 0, celsius(18.0)),
            (13 * HOUR, ORDER_BURNER, 1, 1.0),
            (14 * HOUR, ORDER_BURNER, 1, 0.0),
        ],
        shelter=cabin(),
        sun=[0.0, 150.0, 0.0],
    ),
    "too much for one cylinder": night(
        24.0, weather=weather([-20.0, -30.0]), burners=[burner(6000.0)], orders=lit()
    ),
    "no gas, three tries, locked out": night(
        30.0,
        weather=weather([-25.0, -33.0], hours=30.0),
        cylinders=[cylinder(3.0)],
        burners=[furnace(5200.0)],
        shelter=cabin(),
    ),
    "emptied to the last vapor": night(
        12.0,
        weather=weather(10.0),
        cylinders=[cylinder(0.5, PROPANE, temperature=10.0)],
        burners=[burner(3000.0)],
        orders=lit(),
        minimum=0.0,
    ),
    "butane that stays behind": night(
        24.0,
        weather=weather([0.0, 0.0, -25.0, -25.0]),
        cylinders=[cylinder(3.0, HALF, temperature=0.0)],
        burners=[burner(400.0)],
        orders=lit(),
    ),
    "a furnace too small": night(
        24.0,
        weather=weather(-35.0),
        cylinders=[cylinder(30.0, WITH_ETHANE, liters=110.0, diameter=0.36)],
        burners=[furnace(900.0)],
        shelter=cabin(people=0.0),
    ),
    "automatic changeover": night(
        10.0,
        weather=weather([-10.0, -18.0]),
        cylinders=[cylinder(2.0), cylinder(2.0, side=1)],
        burners=[burner(4500.0)],
        orders=lit(),
    ),
    "a change of cylinders": night(
        8.0,
        weather=weather([-12.0, -22.0]),
        cylinders=[cylinder(3.0), cylinder(side=-1, upright=False), cylinder(side=-1)],
        burners=[burner(5000.0), furnace()],
        orders=[*lit(), (5 * HOUR, ORDER_SWAP, 0, 1.0)],
        shelter=cabin(),
    ),
    "frost by night, thaw and dew by day": night(
        24.0,
        weather=weather([-6.0, -4.0, 9.0, 12.0, 1.0], humidity=0.95, sky_drop=15.0),
        cylinders=[cylinder(upright=False), cylinder(5.0, BUTANE, cover=0.2, heater=40.0)],
        burners=[burner(2500.0)],
        orders=[*lit(), (10 * HOUR, ORDER_BURNER, 0, 0.0)],
        sun=[0.0, 0.0, 300.0, 300.0, 0.0],
    ),
    "nothing burning": night(24.0, weather=weather([-10.0, -20.0, -5.0], sky_drop=20.0)),
}

HAPPENS = {
    "too much for one cylinder": VAPOR_LIMITED,
    "emptied to the last vapor": EMPTY,
    "butane that stays behind": RESIDUE,
    "a furnace too small": HEAT_SHORT,
    "no gas, three tries, locked out": FREEZING,
}


@pytest.fixture(scope="module")
def in_c(tmp_path_factory: pytest.TempPathFactory) -> Port:
    """The march in C, compiled."""
    if c_march.compiler() is None:
        pytest.skip("no C compiler named cc here")
    folder: Path = tmp_path_factory.mktemp("c")
    return c_march.build(folder)


@pytest.fixture(scope="module", params=NIGHTS, ids=str)
def both(request: pytest.FixtureRequest, in_c: Port) -> tuple[str, Outcome, InC]:
    """Name of a night, what the march found and what its port found."""
    made = NIGHTS[request.param]
    return request.param, marched(made), in_c(made, TOLERANCE)


def logged(found: Outcome | InC) -> tuple[np.ndarray, np.ndarray]:
    """Times of what happened [s]; what and which as two columns."""
    kept = int(found.log.entries[0])
    assert kept <= found.log.seconds.size
    return found.log.seconds[:kept], np.column_stack([found.log.what, found.log.which])[:kept]


def test_the_same_happens_at_the_same_times(both: tuple[str, Outcome, InC]) -> None:
    _, ours, theirs = both
    assert logged(ours)[1].tolist() == logged(theirs)[1].tolist()
    # A microsecond in a day is 1e-11: rounding, which a mathematical library may do its own way.
    assert logged(theirs)[0] == pytest.approx(logged(ours)[0], abs=1e-6, rel=0.0)
    assert theirs.steps == ours.steps


def test_the_same_fails(both: tuple[str, Outcome, InC]) -> None:
    _, ours, theirs = both
    assert theirs.failures.about.tolist() == ours.failures.about.tolist()
    for ours_at, theirs_at in zip(ours.failures, theirs.failures, strict=True):
        assert theirs_at == pytest.approx(ours_at, abs=1e-6, rel=0.0)


def test_the_same_is_left(both: tuple[str, Outcome, InC]) -> None:
    _, ours, theirs = both
    # Rounding again; heats [J] and frost [kg/m2] are compared beside their own sizes.
    assert theirs.state == pytest.approx(ours.state, rel=1e-9, abs=1e-9)
    assert theirs.burned == pytest.approx(ours.burned, rel=1e-9)
    assert theirs.stores == pytest.approx(ours.stores, rel=1e-9, abs=1e-3)
    assert theirs.fluid_energy == pytest.approx(ours.fluid_energy, rel=1e-9, abs=1e-3)
    for name in ours.books.dtype.names:
        assert theirs.books[name] == pytest.approx(ours.books[name], rel=1e-9, nan_ok=True)


def test_the_room_is_the_same(both: tuple[str, Outcome, InC]) -> None:
    _, ours, theirs = both
    assert theirs.room == pytest.approx(ours.room, rel=1e-9, nan_ok=True)
    assert theirs.lowest_inside == pytest.approx(ours.lowest_inside, rel=1e-9, nan_ok=True)


def test_the_nights_cover_what_can_happen(both: tuple[str, Outcome, InC]) -> None:
    name, ours, _ = both
    if name in HAPPENS:
        assert np.isfinite(ours.failures.seconds[HAPPENS[name]])
    happened = logged(ours)[1][:, 0]
    assert (LOCKED in happened) == (name == "no gas, three tries, locked out")
    assert (EVENT_SWAP in happened) == (name == "a change of cylinders")
