"""The air inside over a night whose temperatures and flames are known.

Between two instants of a list everything that is made is steady, and temperatures, vapor outside
and the air that comes in run linearly; the balance of :mod:`coldsoak.physics.roomair` is integrated
with the classical rule of fourth order.
"""

from math import ceil, inf, nan
from typing import NamedTuple

import numpy as np

from coldsoak.night.records import Floats
from coldsoak.physics.compiled import compiled
from coldsoak.physics.moistair import TRIPLE_POINT
from coldsoak.physics.opening import vent_flow
from coldsoak.physics.roomair import (
    Air,
    Around,
    Enclosure,
    Made,
    air_rates,
    condensing,
    outside_air,
    vapor_pressure_of,
)
from coldsoak.physics.shelter import infiltration

LONGEST_STEP = 30.0
"""[s]; a thousandth of a percent of what four times as long gives, and the last of a film of water
dries in ten such steps."""

SHARES = (0.0, 0.5, 0.5, 1.0)
"""Where in a step the four rates are taken (Runge-Kutta, fourth order)."""

WEIGHTS = (1.0 / 6.0, 1.0 / 3.0, 1.0 / 3.0, 1.0 / 6.0)
"""What each of them counts."""

WET = 2e-3
"""Water that counts as wet [kg/m2]: a film of 2 um; common practice, no source."""


class Timeline(NamedTuple):
    """What the air inside is exposed to; instants 0 to n, stretches between them 0 to n - 1."""

    seconds: Floats
    """Instants since the start, increasing, float64[n + 1] [s]."""
    inside: Floats
    """float64[n + 1] [K]"""
    outside: Floats
    """float64[n + 1] [K]"""
    vapor_pressure: Floats
    """Of the air outside, float64[n + 1] [Pa]."""
    exchange: Floats
    """Outside air that comes in, float64[n + 1] [m3/s]."""
    made: Floats
    """Carbon dioxide, oxygen, water in each stretch, float64[n, 3] [mol/s]."""
    pressure: float
    """Of the station [Pa]."""


class Limits(NamedTuple):
    """Most carbon dioxide and least oxygen [mol per mol of dry air]."""

    co2: float
    oxygen: float


class AirBook(NamedTuple):
    """What a night's air came to."""

    highest_co2: float
    """[mol per mol of dry air]"""
    highest_at: float
    """[s]"""
    lowest_oxygen: float
    """[mol per mol of dry air]"""
    lowest_at: float
    """[s]"""
    unfit_at: float
    """When a limit was passed first [s], infinite if never."""
    unfit: float
    """Time beyond a limit [s]."""
    window_wet: float
    """Time with water or ice on the glazing [s]."""
    window_frozen: float
    """Time with ice on it [s]."""
    wall_wet: float
    """Time with water or ice on the wall [s]."""
    wall_frozen: float
    """Time with ice on it [s]."""
    coldest_window: float
    """Lowest temperature of the glazing's inner face [K]."""
    coldest_wall: float
    """[K]"""


class AirTrack(NamedTuple):
    """The air at every instant of a timeline, and what it came to."""

    air: Floats
    """Fields of :class:`coldsoak.physics.roomair.Air`, float64[n + 1, 5]."""
    book: AirBook


@compiled
def exchanges(
    gaps: float,
    stack: float,
    wind_area: float,
    inside: Floats,
    outside: Floats,
    wind: Floats,
    out: Floats,
) -> None:
    """Fill `out` with the outside air that comes in through gaps and openings [m3/s].

    `gaps` is their effective leakage area [m2], `stack` and `wind_area` are those of
    :class:`coldsoak.physics.opening.Vents`, `wind` is that at the shelter [m/s].
    """
    for i in range(out.size):
        out[i] = infiltration(gaps, inside[i], outside[i], wind[i]) + vent_flow(
            stack, wind_area, inside[i], outside[i], wind[i]
        )


@compiled
def around_at(line: Timeline, i: int, part: float) -> Around:
    """What the air is exposed to at ``part`` (0 to 1) of stretch ``i``."""
    rest = 1.0 - part
    return Around(
        rest * line.inside[i] + part * line.inside[i + 1],
        rest * line.outside[i] + part * line.outside[i + 1],
        rest * line.vapor_pressure[i] + part * line.vapor_pressure[i + 1],
        line.pressure,
        rest * line.exchange[i] + part * line.exchange[i + 1],
    )


@compiled
def ahead(air: Air, rates: Air, seconds: float) -> Air:
    """The air after some time at these rates."""
    return Air(
        air.co2 + seconds * rates.co2,
        air.oxygen + seconds * rates.oxygen,
        air.vapor + seconds * rates.vapor,
        air.on_window + seconds * rates.on_window,
        air.on_wall + seconds * rates.on_wall,
    )


@compiled
def stepped(
    air: Air, made: Made, line: Timeline, i: int, begin: float, end: float, room: Enclosure
) -> Air:
    """The air one step later, from part ``begin`` to part ``end`` of stretch ``i``."""
    step = (end - begin) * (line.seconds[i + 1] - line.seconds[i])
    later = air
    rates = Air(0.0, 0.0, 0.0, 0.0, 0.0)
    for stage in range(4):
        share = SHARES[stage]
        around = around_at(line, i, begin + share * (end - begin))
        rates = air_rates(ahead(air, rates, share * step), made, around, room)
        later = ahead(later, rates, WEIGHTS[stage] * step)
    return later


@compiled
def blank_book(air: Air) -> AirBook:
    """The book before the first step."""
    return AirBook(air.co2, 0.0, air.oxygen, 0.0, inf, 0.0, 0.0, 0.0, 0.0, 0.0, inf, inf)


@compiled
def booked(
    book: AirBook,
    air: Air,
    around: Around,
    room: Enclosure,
    limits: Limits,
    now: float,
    step: float,
) -> AirBook:
    """The book with one more step, which ended `now` [s] with this air."""
    here = vapor_pressure_of(air.vapor, around.pressure)
    window = condensing(here, air.on_window, room.window, around).temperature
    wall = condensing(here, air.on_wall, room.wall, around).temperature
    unfit = air.co2 > limits.co2 or air.oxygen < limits.oxygen
    wet = air.on_window > WET and room.window.area > 0.0
    soaked = air.on_wall > WET
    higher, lower = air.co2 > book.highest_co2, air.oxygen < book.lowest_oxygen
    return AirBook(
        air.co2 if higher else book.highest_co2,
        now if higher else book.highest_at,
        air.oxygen if lower else book.lowest_oxygen,
        now if lower else book.lowest_at,
        min(book.unfit_at, now) if unfit else book.unfit_at,
        book.unfit + (step if unfit else 0.0),
        book.window_wet + (step if wet else 0.0),
        book.window_frozen + (step if wet and window < TRIPLE_POINT else 0.0),
        book.wall_wet + (step if soaked else 0.0),
        book.wall_frozen + (step if soaked and wall < TRIPLE_POINT else 0.0),
        min(book.coldest_window, window),
        min(book.coldest_wall, wall),
    )


@compiled
def fill_air(line: Timeline, room: Enclosure, limits: Limits, air: Air, out: Floats) -> AirBook:
    """Fill `out`, float64[n + 1, 5], with the air at every instant, from `air` at the first one."""
    book = blank_book(air)
    out[0] = air
    for i in range(line.made.shape[0]):
        length = line.seconds[i + 1] - line.seconds[i]
        steps = max(1, ceil(length / LONGEST_STEP))
        made = Made(line.made[i, 0], line.made[i, 1], line.made[i, 2])
        step = length / steps
        for k in range(steps):
            air = stepped(air, made, line, i, k / steps, (k + 1) / steps, room)
            after = around_at(line, i, (k + 1) / steps)
            now = line.seconds[i] + (k + 1) * step
            book = booked(book, air, after, room, limits, now, step)
        out[i + 1] = air
    return book


def air_of(line: Timeline, room: Enclosure, limits: Limits) -> AirTrack:
    """The air over a timeline, from a room that was aired right before it."""
    out = np.full((line.seconds.size, len(Air._fields)), nan)
    book = fill_air(line, room, limits, outside_air(around_at(line, 0, 0.0)), out)
    return AirTrack(out, book)
