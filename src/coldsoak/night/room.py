"""The heated shelter in time: two nodes, flames that burn steadily, the next turning point.

Its state is a row of :data:`ROOM_WIDTH` numbers: temperatures of the light and the heavy node [K],
and two running sums since the start: heat gained and heat lost [J].
"""

import math
from typing import NamedTuple

import numpy as np

from coldsoak.night.records import Floats, Night, find_row, part_of_row
from coldsoak.night.step import (
    FIRST,
    FIRST_STEP,
    LAST,
    SECOND,
    SHORTEST_STEP,
    STAGES,
    THIRD,
    TRIAL,
    between,
    crossing,
    defect,
    next_step,
    to_end,
    to_second,
    to_third,
)
from coldsoak.night.track import Track, first_after, in_step, part_of_step
from coldsoak.physics.compiled import compiled
from coldsoak.physics.shelter import leakage_conductance

INSIDE = 0
HEAVY = 1
GAINED = 2
LOST = 3
ROOM_WIDTH = 4


class Marks(NamedTuple):
    """Temperatures inside at which something happens [K]; NaN where nothing does."""

    falling: Floats
    """Passed from above, float64[...]."""
    rising: Floats
    """Passed from below, float64[...]."""


class Room(NamedTuple):
    """The room at one instant, with what it takes to move it."""

    state: Floats
    """float64[ROOM_WIDTH]"""
    stages: Floats
    """:mod:`coldsoak.night.step`"""
    pace: Floats
    """Step that the error allowed last, float64[1] [s]."""
    lowest: Floats
    """Lowest temperature inside so far, at the ends of steps, float64[1] [K]."""


def begin_room(temperature: float) -> Room:
    """The room at the start, both nodes at ``temperature`` [K]."""
    state = np.array([temperature, temperature, 0.0, 0.0])
    stages = np.zeros((STAGES, ROOM_WIDTH))
    return Room(state, stages, np.array([FIRST_STEP]), np.array([temperature]))


@compiled
def room_rates(
    seconds: float, row: int, state: Floats, flame_heat: float, night: Night, rates: Floats
) -> None:
    """Fill ``rates`` (float64[ROOM_WIDTH]) with the time derivatives of the room's state.

    ``flame_heat`` is the heat of all flames that reaches the room [W]. Air at the light node loses
    heat to the outside through the envelope, the floor and the leaks, and exchanges it with the
    heavy node.
    """
    after = part_of_row(night.weather, row, seconds)
    before = 1.0 - after
    low = night.weather[row]
    high = night.weather[row + 1]
    cabin = night.cabin[0]
    air = before * low.air + after * high.air
    wind = cabin.wind_factor * (before * low.wind + after * high.wind)
    sun = before * low.sun_window + after * high.sun_window
    inside = state[INSIDE]
    leak = leakage_conductance(
        cabin.leakage_area, inside, air, wind, night.supply[0].station_pressure
    )
    ground = air if math.isnan(cabin.ground) else cabin.ground
    lost = (cabin.ua_air + leak) * (inside - air) + cabin.ua_ground * (inside - ground)
    gained = flame_heat + cabin.people + cabin.sun_aperture * sun
    exchanged = cabin.coupling * (inside - state[HEAVY])
    rates[INSIDE] = (gained - lost - exchanged) / cabin.light_capacity
    rates[HEAVY] = exchanged / cabin.heavy_capacity
    rates[GAINED] = gained
    rates[LOST] = lost


@compiled
def take_room_step(
    seconds: float, step: float, row: int, room: Room, flame_heat: float, night: Night
) -> None:
    """From the state and its first rates, fill the trial state and the other rates."""
    state, stages, _, _ = room
    trial = stages[TRIAL]
    to_second(state, step, stages)
    room_rates(seconds + 0.5 * step, row, trial, flame_heat, night, stages[SECOND])
    to_third(state, step, stages)
    room_rates(seconds + 0.75 * step, row, trial, flame_heat, night, stages[THIRD])
    to_end(state, step, stages)
    room_rates(seconds + step, row, trial, flame_heat, night, stages[LAST])


@compiled
def first_mark(room: Room, step: float, marks: Marks) -> float:
    """First part of the trial step at which the inside passes a mark; 2 if it passes none."""
    before = room.state[INSIDE]
    after = room.stages[TRIAL, INSIDE]
    first = 2.0
    for mark in marks.falling:
        if before > mark >= after:
            first = min(first, crossing(room.state, room.stages, INSIDE, step, mark))
    for mark in marks.rising:
        if before < mark <= after:
            first = min(first, crossing(room.state, room.stages, INSIDE, step, mark))
    return first


@compiled
def advance_room(
    seconds: float,
    end: float,
    room: Room,
    flame_heat: float,
    night: Night,
    marks: Marks,
    tolerance: float,
    track: Track,
) -> float:
    """Move the room from ``seconds`` to ``end``, or to where its inside passes a mark.

    Returns
    -------
    float
        Time reached [s].
    """
    state, stages, pace, lowest = room
    row = find_row(night.weather, seconds, 0)
    room_rates(seconds, row, state, flame_heat, night, stages[FIRST])
    step = pace[0]
    while seconds < end:
        row = find_row(night.weather, seconds, row)
        stop = min(end, night.weather[row + 1].seconds)
        whole = seconds + 1.01 * step >= stop
        length = stop - seconds if whole else step
        take_room_step(seconds, length, row, room, flame_heat, night)
        error = max(defect(stages, INSIDE, length), defect(stages, HEAVY, length))
        if not error <= tolerance and length > SHORTEST_STEP:
            step = next_step(length, error, tolerance)
            continue
        step = max(step if whole else 0.0, next_step(length, error, tolerance))
        part = first_mark(room, length, marks)
        if part < 2.0:
            whole = False
            length *= part
            take_room_step(seconds, length, row, room, flame_heat, night)
        g = first_after(track, seconds)
        while in_step(track, g, seconds, length):
            share = part_of_step(track, g, seconds, length)
            track.room[g] = between(state, stages, INSIDE, length, share)
            g += 1
        for i in range(ROOM_WIDTH):
            state[i] = stages[TRIAL, i]
            stages[FIRST, i] = stages[LAST, i]
        lowest[0] = min(lowest[0], state[INSIDE])
        seconds = stop if whole else seconds + length
        if part < 2.0:
            break
    pace[0] = step
    return seconds
