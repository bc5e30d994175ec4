"""The coupled march: cylinders, supply, burners and room through the night in one time loop.

Between two happenings the flames burn steadily, so the room depends on nothing but the weather and
the cylinders on nothing but the weather and the draw. Each stretch is therefore marched in two
passes with steps of their own: the room first, to the next set time (weather rows, orders, timers)
or to where it passes a thermostat's turning point; then the cylinders over the same stretch, unless
their pressure falls to the regulator's need before, where the room is taken back to. What happens
by itself is located on the interpolant of a step and the step taken again to just there.
"""

from typing import Literal, NamedTuple

import numpy as np

from coldsoak.night.burner import (
    FLAME,
    FLAME_STATE,
    IDLE,
    LOCKED,
    NEVER,
    OUT,
    SLACK,
    WAIT,
    asks,
    next_phase,
    next_time,
    turn,
)
from coldsoak.night.cylinder import MOLES, TEMPERATURE, WIDTH, outside_at
from coldsoak.night.feed import (
    MOST_STEPS,
    Feed,
    advance,
    begin,
    first_rates,
    rest,
    settle_books,
    stand,
)
from coldsoak.night.rates import settle_cylinder_fully
from coldsoak.night.records import (
    ORDER_BURNER,
    ORDER_SET_POINT,
    Floats,
    Integers,
    Night,
    Switches,
    Table,
    find_row,
)
from coldsoak.night.room import INSIDE, Marks, Room, advance_room, begin_room
from coldsoak.night.supply import feed_pressure
from coldsoak.night.track import Track, first_after, in_step
from coldsoak.physics.compiled import compiled
from coldsoak.physics.fuel import MOLAR_MASS, N_COMPONENTS, bubble_pressure

VAPOR_LIMITED = 0
EMPTY = 1
RESIDUE = 2
HEAT_SHORT = 3
FREEZING = 4
Cause = Literal["vapor-limited", "empty", "residue", "heat-short", "freezing"]
CAUSES: tuple[Cause, ...] = ("vapor-limited", "empty", "residue", "heat-short", "freezing")
"""Names of the causes, in the order of their numbers."""

FREEZING_POINT = 273.15
SHORTFALL = 3.0
"""How far below its set point a room must sink for the burner to be short of heat [K]."""
LONGEST_BURN = 6 * 3600.0
"""A burner that runs this long without reaching the set point less the shortfall is short [s]."""
GONE = 1e-3
"""Liquid volume over water capacity below which the liquid counts as gone."""
LEFT_OVER = 0.05
"""Part of the first contents from which on what is left counts as a residue."""
EVENT_SWAP = 20
EVENT_CAUSE = 10
"""In the log, a burner's phase stands as it is, a cause as 10 and its number, a change of
cylinders as 20."""
LOG_LENGTH = 8192


class Log(NamedTuple):
    """What happened, in order; of ``entries[0]`` the first LOG_LENGTH are kept."""

    entries: Integers
    seconds: Floats
    what: Integers
    which: Integers


class Failures(NamedTuple):
    """What went wrong and when; infinite times are never."""

    seconds: Floats
    """First time of each cause, float64[causes] [s]."""
    about: Integers
    """Cylinder that each cause is about, or -1, int64[causes]."""
    cylinder: Floats
    """First time each cylinder could not feed, float64[c] [s]."""


class Outcome(NamedTuple):
    """What the march found."""

    state: Floats
    """Cylinders at the end (:mod:`coldsoak.night.rates`)."""
    room: Floats
    """Room at the end (:mod:`coldsoak.night.room`)."""
    burned: Floats
    """Fuel burned by each burner, float64[b] [kg]."""
    failures: Failures
    stores: Floats
    """Where the heat that boiled the fuel came from, to the first failure or the end [J]."""
    lowest_inside: float
    """[K]; NaN without a shelter."""
    fluid_energy: Floats
    """Energy of contents at the end less that at the start, float64[c] [J]."""
    books: Table
    """BOOK[c] (:mod:`coldsoak.night.feed`)."""
    steps: int
    """Steps of the cylinders."""
    log: Log
    track: Track


@compiled
def note(log: Log, seconds: float, what: int, which: int) -> None:
    """Write an entry; beyond ``LOG_LENGTH`` entries are counted, not kept."""
    i = log.entries[0]
    if i < log.seconds.size:
        log.seconds[i] = seconds
        log.what[i] = what
        log.which[i] = which
    log.entries[0] = i + 1


@compiled
def move_burners(
    seconds: float, inside: float, fed: bool, burners: Table, flames: Table, log: Log
) -> bool:
    """Let every burner go to the phase it must be in now.

    Returns
    -------
    bool
        Whether a burner lost its flame or found no gas.
    """
    starved = False
    for b in range(flames.size):
        while True:
            new = next_phase(seconds, inside, fed, burners[b], flames[b])
            if new == flames[b].phase:
                break
            starved = starved or new in (WAIT, LOCKED, OUT)
            turn(new, seconds, burners[b], flames[b])
            note(log, seconds, new, b)
    return starved


@compiled
def burner_stop(seconds: float, inside: float, burners: Table, flames: Table) -> float:
    """Next time at which a burner may change by its timer, or has burned very long [s]."""
    stop = NEVER
    for b in range(flames.size):
        flame = flames[b]
        stop = min(stop, next_time(seconds, inside, burners[b], flame))
        endless = flame.since + LONGEST_BURN
        if flame.phase == FLAME and endless > seconds:
            stop = min(stop, endless)
    return stop


@compiled
def place_marks(burners: Table, flames: Table, marks: Marks) -> None:
    """Set the temperatures inside at which a burner turns, falls short, or the room freezes."""
    marks.falling[:] = np.nan
    marks.rising[:] = np.nan
    for b in range(flames.size):
        set_point, half = flames[b].set_point, 0.5 * burners[b].differential
        if burners[b].thermostat and flames[b].phase == IDLE:
            marks.falling[b] = set_point - half
        elif burners[b].thermostat and flames[b].phase == FLAME:
            marks.rising[b] = set_point + half
            marks.falling[b] = set_point - SHORTFALL
    marks.falling[-1] = FREEZING_POINT


@compiled
def short_of_heat(
    seconds: float, before: float, inside: float, burners: Table, flames: Table
) -> bool:
    """Whether a burner runs and the room sinks past the set point less the shortfall, or has not
    reached that in a very long burn. ``before`` is the temperature one stretch ago [K]."""
    for b in range(flames.size):
        if burners[b].thermostat and flames[b].phase == FLAME:
            mark = flames[b].set_point - SHORTFALL
            sinks = before > mark + SLACK and inside <= mark + SLACK
            endless = inside < mark and seconds >= flames[b].since + LONGEST_BURN
            if sinks or endless:
                return True
    return False


@compiled
def relight(flames: Table) -> None:
    """Someone is there, changing a cylinder: lock-outs are reset and flames lit again."""
    for b in range(flames.size):
        phase = flames[b].phase
        if phase in (OUT, LOCKED, WAIT):
            flames[b].phase = IDLE
            flames[b].timer = 0.0
            flames[b].tries = 0


@compiled
def flame_heat(burners: Table, flames: Table) -> tuple[float, float, float]:
    """Gross heat of the flames, their heat to the room, gross heat asked for, lit or not [W]."""
    burning = 0.0
    to_room = 0.0
    asked = 0.0
    for b in range(flames.size):
        if flames[b].phase == FLAME:
            burning += burners[b].heat
            to_room += burners[b].heat * burners[b].room_share
        if asks(burners[b], flames[b]):
            asked += burners[b].heat
    return burning, to_room, asked


@compiled
def share_burned(mass: float, burning: float, burners: Table, flames: Table) -> None:
    """Charge ``mass`` [kg] to the flames that burned it, by their heat of ``burning`` [W]."""
    for b in range(flames.size):
        if flames[b].phase == FLAME and burners[b].heat > 0.0:
            flames[b].burned += mass * burners[b].heat / burning


@compiled
def supply_cause(seconds: float, feed: Feed, night: Night, side: Integers) -> tuple[int, int]:
    """Why the supply fails now, and at which cylinder: the open one with most pressure.

    Empty if its liquid is gone. Residue if 5 % or more of its first contents are left and what is
    left has, at the temperature of the air, less pressure than the regulator needs. Else it is
    limited by the heat that boils the vapor.
    """
    best = -1
    for c in range(side.size):
        if side[c] < 0:
            continue
        if best < 0 or feed.contents[c].pressure > feed.contents[best].pressure:
            best = c
    contents, cylinder = feed.contents[best], night.cylinders[best]
    if contents.liquid_volume < GONE * cylinder.volume:
        return EMPTY, best
    row = find_row(night.weather, seconds, 0)
    air = outside_at(night, row, seconds, best).air
    at_air = bubble_pressure(air, contents.liquid, np.zeros(N_COMPONENTS))
    left = 0.0
    start = 0.0
    for k in range(N_COMPONENTS):
        left += feed.state[best * WIDTH + MOLES + k] * MOLAR_MASS[k]
        start += cylinder.moles[k] * MOLAR_MASS[k]
    if at_air < night.supply[0].minimum and left >= LEFT_OVER * start:
        return RESIDUE, best
    return VAPOR_LIMITED, best


@compiled
def swap(
    seconds: float,
    off: int,
    on: int,
    feed: Feed,
    night: Night,
    live: Switches,
    side: Integers,
    since: Floats,
    tolerance: float,
    track: Track,
) -> None:
    """Put cylinder ``on`` in the place of cylinder ``off``."""
    stand(on, since[on], seconds, feed, night, tolerance, track)
    settle_cylinder_fully(on, feed.state, night, feed.contents)
    since[off] = seconds
    side[on] = side[off]
    side[off] = -1
    live[on] = True
    live[off] = False
    rest(feed, off)


def fresh_track(night: Night, grid: float) -> Track:
    """Track at spacing ``grid`` [s] with its first row filled; no rows for a spacing of zero."""
    count = len(night.cylinders)
    rows = int(night.length / grid + 1e-9) + 1 if grid > 0.0 else 0
    track = Track(
        grid * np.arange(rows, dtype=np.float64),
        np.full(rows, np.nan),
        np.zeros(rows),
        np.full((rows, count, WIDTH), np.nan),
        np.full((rows, count), -1),
    )
    if rows > 0:
        track.room[0] = night.cabin.temperature[0]
        track.cylinders[0] = 0.0
        track.cylinders[0, :, TEMPERATURE] = night.cylinders.temperature
        track.cylinders[0, :, MOLES : MOLES + N_COMPONENTS] = night.cylinders.moles
    return track


@compiled
def fail(seconds: float, cause: int, cylinder: int, failures: Failures, log: Log) -> None:
    """Note the first time of a cause."""
    if not np.isfinite(failures.seconds[cause]):
        failures.seconds[cause] = seconds
        failures.about[cause] = cylinder
        note(log, seconds, EVENT_CAUSE + cause, cylinder)


def march(night: Night, tolerance: float, grid: float) -> Outcome:
    """March through the night.

    Parameters
    ----------
    night : Night
        Tables in SI units.
    tolerance : float
        Error allowed in a step, in kelvins of liquid and room [K]; 2e-4 is good for plans.
    grid : float
        Spacing of the recorded track [s]; zero records nothing.

    Notes
    -----
    Masses are exact in every step; energy is closed at each step's end
    (:func:`coldsoak.night.feed.close_energy`).
    """
    count, fires = len(night.cylinders), len(night.burners)
    feed = begin(night)
    first_energy = feed.books.energy.copy()
    room = begin_room(float(night.cabin.temperature[0]))
    flames = np.zeros(fires, FLAME_STATE).view(np.recarray)
    flames.set_point = night.burners.set_point
    failures = Failures(
        np.full(len(CAUSES), np.inf), np.full(len(CAUSES), -1), np.full(count, np.inf)
    )
    stores = np.zeros(5)
    log = Log(
        np.zeros(1, np.int64),
        np.zeros(LOG_LENGTH),
        np.zeros(LOG_LENGTH, np.int64),
        np.zeros(LOG_LENGTH, np.int64),
    )
    track = fresh_track(night, grid)
    run(night, feed, room, flames, failures, stores, log, track, tolerance)
    return Outcome(
        feed.state,
        room.state,
        flames.burned,
        failures,
        stores,
        float(room.lowest[0]),
        feed.contents.energy - first_energy,
        feed.books,
        int(feed.pace[1]),
        log,
        track,
    )


@compiled
def run(
    night: Night,
    feed: Feed,
    room: Room,
    flames: Table,
    failures: Failures,
    stores: Floats,
    log: Log,
    track: Track,
    tolerance: float,
) -> None:
    """The time loop of :func:`march`, over what it has laid out."""
    burners, orders = night.burners, night.orders
    count = night.cylinders.size
    side = np.zeros(count, np.int64)
    live = np.zeros(count, np.bool_)
    for c in range(count):
        side[c] = night.cylinders[c].side
        live[c] = side[c] >= 0
    since = np.zeros(count)
    saved = room.state.copy()
    saved_lowest = room.lowest[0]
    marks = Marks(np.full(flames.size + 1, np.nan), np.full(flames.size, np.nan))
    after_failure = np.zeros(5)
    minimum = night.supply[0].minimum

    seconds = 0.0
    inside = room.state[INSIDE] if night.heated else -np.inf
    before = inside
    order = 0
    row = 0
    asked_so_far = 0.0
    lost = False
    drawn = -1.0
    while True:
        row = find_row(night.weather, seconds, row)
        while order < orders.size and orders[order].seconds <= seconds:
            which, value = orders[order].which, orders[order].value
            if orders[order].what == ORDER_BURNER:
                flames[which].wanted = value > 0.5
            elif orders[order].what == ORDER_SET_POINT:
                flames[which].set_point = value
                flames[which].since = seconds
                before = inside
            else:
                on = int(value)
                swap(seconds, which, on, feed, night, live, side, since, tolerance, track)
                relight(flames)
                note(log, seconds, EVENT_SWAP, on)
                drawn = -1.0
            order += 1
        if seconds == 0.0 and track.seconds.size > 0:
            track.side[0] = side
        if drawn < 0.0:
            first_rates(seconds, row, feed, night, live, side, 0.0)
            drawn = 0.0

        if night.heated and short_of_heat(seconds, before, inside, burners, flames):
            fail(seconds, HEAT_SHORT, -1, failures, log)
        if night.heated and before > FREEZING_POINT + SLACK >= inside:
            fail(seconds, FREEZING, -1, failures, log)
        before = inside
        fed = feed_pressure(feed.contents, side) >= minimum and not lost
        if move_burners(seconds, inside, fed, burners, flames, log):
            cause, cylinder = supply_cause(seconds, feed, night, side)
            fail(seconds, cause, cylinder, failures, log)
            for c in range(count):
                if side[c] >= 0:
                    failures.cylinder[c] = min(failures.cylinder[c], seconds)
        if seconds >= night.length or feed.pace[1] > MOST_STEPS:
            break

        burning, to_room, asked = flame_heat(burners, flames)
        if burning != drawn:
            first_rates(seconds, row, feed, night, live, side, burning)
            drawn = burning
        stop = min(night.length, burner_stop(seconds, inside, burners, flames))
        if order < orders.size:
            stop = min(stop, orders[order].seconds)
        reached = stop
        if night.heated:
            place_marks(burners, flames, marks)
            saved[:] = room.state
            saved_lowest = room.lowest[0]
            reached = advance_room(seconds, stop, room, to_room, night, marks, tolerance, track)
        burned = feed.state[count * WIDTH]
        holding = not np.isfinite(failures.seconds.min())
        until, lost = advance(
            seconds,
            reached,
            feed,
            night,
            live,
            side,
            burning,
            tolerance,
            stores if holding else after_failure,
            track,
        )
        if night.heated:
            if until < reached:
                room.state[:] = saved
                room.lowest[0] = saved_lowest
                advance_room(seconds, until, room, to_room, night, marks, tolerance, track)
            inside = room.state[INSIDE]
        share_burned(feed.state[count * WIDTH] - burned, burning, burners, flames)
        g = first_after(track, seconds)
        while in_step(track, g, seconds, until - seconds):
            track.asked[g] = asked_so_far + asked * (track.seconds[g] - seconds)
            track.side[g] = side
            g += 1
        asked_so_far += asked * (until - seconds)
        seconds = until

    for c in range(count):
        if not live[c]:
            stand(c, since[c], seconds, feed, night, tolerance, track)
        settle_books(c, feed, night)
