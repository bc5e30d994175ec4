"""How a burner starts, loses its gas, tries again and locks out, told by itself, without a march.

A burner here lives in a room whose temperature and supply the test dictates second by second.
"""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from nights import burner, celsius, furnace, rows

from coldsoak.night.burner import (
    FLAME,
    FLAME_STATE,
    IDLE,
    LOCKED,
    NEVER,
    OUT,
    PURGE,
    WAIT,
    asks,
    next_phase,
    next_time,
    turn,
)
from coldsoak.night.march import relight
from coldsoak.night.records import BURNER, Record, Table

Room = Callable[[int], float]
COLD: Room = lambda second: celsius(10.0)  # noqa: E731
WARM: Room = lambda second: celsius(25.0)  # noqa: E731


def made(entry: dict[str, Any]) -> tuple[Record, Table]:
    """A burner and its flame at rest."""
    burners = rows(BURNER, [entry])
    flames = np.zeros(1, FLAME_STATE).view(np.recarray)
    flames.set_point = burners.set_point
    return burners[0], flames


def lived(
    entry: dict[str, Any],
    inside: Room,
    fed: Callable[[int], bool] = lambda second: True,
    seconds: int = 1200,
    change_at: int = -1,
) -> list[tuple[int, int]]:
    """Phases with the second in which they began."""
    one, flames = made(entry)
    flames.wanted = True
    flame, story = flames[0], [(0, IDLE)]
    for second in range(seconds):
        if second == change_at:
            relight(flames)
            story.append((second, IDLE))
        while True:
            phase = next_phase(float(second), inside(second), fed(second), one, flame)
            if phase == flame.phase:
                break
            turn(phase, float(second), one, flame)
            story.append((second, phase))
    return story


def test_a_cold_room_starts_the_purge_and_then_the_flame() -> None:
    assert lived(furnace(purge=20.0), COLD) == [(0, IDLE), (0, PURGE), (20, FLAME)]


def test_a_burner_without_purge_lights_at_once() -> None:
    assert lived(furnace(purge=0.0), COLD) == [(0, IDLE), (0, PURGE), (0, FLAME)]


def test_a_warm_room_starts_nothing() -> None:
    assert lived(furnace(), WARM) == [(0, IDLE)]


def test_the_thermostat_turns_half_its_differential_from_the_set_point() -> None:
    quick = furnace(purge=0.0, minimum_on=0.0, minimum_off=0.0, differential=1.0)
    cooling = lived(quick, lambda second: celsius(20.0 - 0.01 * second), seconds=400)
    warming = lived(quick, lambda second: celsius(16.0 + 0.01 * second), seconds=400)
    assert cooling[1:] == [(250, PURGE), (250, FLAME)]
    assert warming[1:] == [(0, PURGE), (0, FLAME), (250, IDLE)]


def test_a_flame_burns_its_minimum_time_in_a_room_that_is_warm_at_once() -> None:
    story = lived(furnace(), lambda second: celsius(10.0 if second < 21 else 25.0))
    assert story[-1] == (20 + 180, IDLE)


def test_a_burner_rests_its_minimum_time_in_a_room_that_is_cold_at_once() -> None:
    def room(second: int) -> float:
        return celsius(25.0 if 100 <= second <= 200 else 10.0)

    assert lived(furnace(), room)[3:5] == [(200, IDLE), (320, PURGE)]


def test_three_tries_without_gas_lock_out() -> None:
    story = lived(furnace(), COLD, fed=lambda second: False)
    assert story[1:] == [
        (0, PURGE),
        (20, WAIT),
        (80, PURGE),
        (100, WAIT),
        (160, PURGE),
        (180, LOCKED),
    ]


def test_a_single_try_locks_out_at_the_first_lack_of_gas() -> None:
    assert lived(furnace(tries=1), COLD, fed=lambda second: False)[-1] == (20, LOCKED)


def test_a_flame_that_loses_its_gas_has_used_one_try() -> None:
    story = lived(furnace(), COLD, fed=lambda second: second < 100)
    assert story[1:] == [
        (0, PURGE),
        (20, FLAME),
        (100, WAIT),
        (160, PURGE),
        (180, WAIT),
        (240, PURGE),
        (260, LOCKED),
    ]


def test_a_good_burn_gives_all_tries_back() -> None:
    def room(second: int) -> float:
        return celsius(25.0 if 400 <= second < 600 else 10.0)

    story = lived(furnace(), room, fed=lambda second: not (100 <= second < 150 or second >= 900))
    after = [phase for second, phase in story if second >= 900]
    assert after.count(WAIT) == 2
    assert after[-1] == LOCKED


def test_a_locked_burner_stays_locked_while_people_sleep() -> None:
    story = lived(furnace(), COLD, fed=lambda second: second > 300, seconds=5000)
    assert story[-1] == (180, LOCKED)


def test_a_change_of_cylinders_resets_a_lock_out() -> None:
    story = lived(furnace(), COLD, fed=lambda second: second > 300, change_at=600)
    assert story[-3:] == [(600, IDLE), (600, PURGE), (620, FLAME)]


def test_a_change_of_cylinders_leaves_a_burning_flame_alone() -> None:
    _, flames = made(furnace())
    flames.phase, flames.timer, flames.tries = FLAME, 500.0, 1
    relight(flames)
    assert (flames.phase[0], flames.timer[0], flames.tries[0]) == (FLAME, 500.0, 1)


def test_a_stove_burns_at_once_and_stays_out_once_blown_out() -> None:
    story = lived(burner(), COLD, fed=lambda second: second < 100 or second > 200)
    assert story[1:] == [(0, FLAME), (100, OUT)]


def test_a_stove_without_gas_is_not_lit() -> None:
    assert lived(burner(), COLD, fed=lambda second: second > 50)[-1] == (0, OUT)


def test_a_stove_is_lit_again_after_a_change_of_cylinders() -> None:
    story = lived(burner(), COLD, fed=lambda second: second < 100 or second > 200, change_at=300)
    assert story[-1] == (300, FLAME)


def test_a_stove_is_lit_again_in_its_next_window() -> None:
    one, flames = made(burner())
    flame = flames[0]
    flame.phase, flame.wanted = OUT, True
    assert next_phase(0.0, 280.0, True, one, flame) == OUT
    flame.wanted = False
    assert next_phase(1.0, 280.0, True, one, flame) == IDLE
    turn(IDLE, 1.0, one, flame)
    flame.wanted = True
    assert next_phase(2.0, 280.0, True, one, flame) == FLAME


@pytest.mark.parametrize("phase", [PURGE, FLAME, WAIT, LOCKED])
def test_a_furnace_that_does_not_rest_asks_for_gas(phase: int) -> None:
    one, flames = made(furnace())
    flames.phase = phase
    assert asks(one, flames[0])


def test_a_furnace_at_rest_asks_for_none() -> None:
    one, flames = made(furnace())
    assert not asks(one, flames[0])


def test_a_stove_asks_for_gas_while_it_is_wanted_lit_or_not() -> None:
    one, flames = made(burner())
    flames.phase, flames.wanted = OUT, True
    assert asks(one, flames[0])
    flames.phase, flames.wanted = IDLE, False
    assert not asks(one, flames[0])


def test_a_minimum_time_matters_only_past_the_turning_point() -> None:
    one, flames = made(furnace())
    flames.phase, flames.timer = FLAME, 300.0
    assert next_time(100.0, celsius(15.0), one, flames[0]) == NEVER
    assert next_time(100.0, celsius(19.0), one, flames[0]) == 300.0


def test_a_purge_always_ends() -> None:
    one, flames = made(furnace())
    flames.phase, flames.timer = PURGE, 20.0
    assert next_time(5.0, celsius(25.0), one, flames[0]) == 20.0


def test_a_locked_burner_waits_for_no_time() -> None:
    one, flames = made(furnace())
    flames.phase, flames.timer = LOCKED, NEVER
    assert next_time(5.0, celsius(0.0), one, flames[0]) == NEVER
