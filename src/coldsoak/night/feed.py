"""The cylinders in time: fed from, or standing, until the supply fails or the time is up."""

from typing import NamedTuple

import numpy as np

from coldsoak.night.contents import CONTENTS, forget
from coldsoak.night.cylinder import (
    CARRIED_OUT,
    FROST,
    FROST_HEAT,
    HEATER_HEAT,
    MOLES,
    TEMPERATURE,
    WALL_HEAT,
    WIDTH,
)
from coldsoak.night.rates import rates_at, settle_cylinder, settle_cylinder_fully
from coldsoak.night.records import Floats, Integers, Night, Switches, Table, find_row
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
    defect,
    next_step,
    to_end,
    to_second,
    to_third,
)
from coldsoak.night.supply import feed_pressure
from coldsoak.night.track import Track, fill_row, first_after, in_step, part_of_step
from coldsoak.physics.compiled import compiled
from coldsoak.physics.fuel import N_COMPONENTS

FROST_TOLERANCE = 0.1
"""Frost that counts as much as a kelvin in the error [kg/m2]."""
SHARE_TOLERANCE = 0.01
"""Part of the contents that counts as much as a kelvin in the error."""

MOST_STEPS = 2_000_000
"""A march that needs more is given up; its outcome's ``steps`` tells."""

COLDEST, HOTTEST = 150.0, 400.0
"""A trial outside is rejected before the fuel's curves are asked for what they cannot know [K]."""

VAPOR, SENSIBLE, WALL, FROST_STORE, HEATER = 0, 1, 2, 3, 4
"""Places of the heat that boiled the fuel in :attr:`coldsoak.night.march.Outcome.stores`."""


BOOK = np.dtype(
    [
        ("energy", "f8"),  # of the contents by what passed in and out [J]
        ("wetted", "f8"),  # wall area at the temperature of the contents [m2]
        ("vapor_moles", "f8"),  # above the liquid [mol]
        ("wall_energy", "f8"),  # heat that the wetted wall gave up since the start [J]
        ("lowest_temperature", "f8"),  # [K]
        ("lowest_pressure", "f8"),  # absolute [Pa]
        ("lowest_margin", "f8"),  # least pressure above the regulator's need while feeding [Pa]
    ]
)
"""Books kept for a cylinder while the time runs; ``lowest_margin`` is NaN until it feeds."""


class Feed(NamedTuple):
    """The cylinders at one instant, with what it takes to move them."""

    state: Floats
    """:mod:`coldsoak.night.rates`"""
    stages: Floats
    """:mod:`coldsoak.night.step`"""
    contents: Table
    """CONTENTS[c], those of the state or trial that was looked at last."""
    share: Floats
    """Part of the draw, float64[c]."""
    wetted: Floats
    """Wall in touch with the contents, float64[c] [m2]."""
    books: Table
    """BOOK[c]"""
    pace: Floats
    """Step that the error allowed last [s], and number of steps so far; float64[2]."""


def begin(night: Night) -> Feed:
    """The cylinders at the start, at rest."""
    cylinders = night.cylinders
    count = len(cylinders)
    size = count * WIDTH + 1
    feed = Feed(
        np.zeros(size),
        np.zeros((STAGES, size)),
        np.zeros(count, CONTENTS).view(np.recarray),
        np.zeros(count),
        np.zeros(count),
        np.zeros(count, BOOK).view(np.recarray),
        np.array([FIRST_STEP, 0.0]),
    )
    rows = feed.state[:-1].reshape(count, WIDTH)
    rows[:, TEMPERATURE] = cylinders.temperature
    rows[:, MOLES : MOLES + N_COMPONENTS] = cylinders.moles
    feed.books.lowest_temperature = cylinders.temperature
    feed.books.lowest_margin = np.nan
    open_books(feed, night)
    return feed


@compiled
def open_books(feed: Feed, night: Night) -> None:
    """Settle all cylinders and write down what they hold."""
    count = night.cylinders.size
    for c in range(count):
        forget(feed.contents[c], night.cylinders[c].moles)
        settle_cylinder_fully(c, feed.state, night, feed.contents)
        feed.books[c].energy = feed.contents[c].energy
        feed.books[c].lowest_pressure = feed.contents[c].pressure
        feed.books[c].vapor_moles = feed.contents[c].vapor_moles
    everyone = np.ones(count, np.bool_)
    row = find_row(night.weather, 0.0, 0)
    first_rates(0.0, row, feed, night, everyone, np.full(count, -1), 0.0)
    for c in range(count):
        feed.books[c].wetted = feed.wetted[c]
    feed.stages[:] = 0.0


@compiled
def first_rates(
    seconds: float,
    row: int,
    feed: Feed,
    night: Night,
    live: Switches,
    side: Integers,
    asked: float,
) -> None:
    """Fill the first rates of the next step anew: the draw or the open cylinders have changed."""
    rates_at(
        seconds,
        row,
        feed.state,
        night,
        live,
        side,
        asked,
        feed.contents,
        feed.share,
        feed.wetted,
        feed.stages[FIRST],
    )


@compiled
def take_step(
    seconds: float,
    step: float,
    row: int,
    feed: Feed,
    night: Night,
    live: Switches,
    side: Integers,
    asked: float,
) -> bool:
    """From the state and its first rates, fill the trial state and the other rates.

    Returns
    -------
    bool
        Whether the step stayed where there is physics; if not, its trial means nothing.
    """
    state, stages, contents, share, wetted, _, _ = feed
    trial = stages[TRIAL]
    to_second(state, step, stages)
    if not in_range(trial, live):
        return False
    rates_at(
        seconds + 0.5 * step,
        row,
        trial,
        night,
        live,
        side,
        asked,
        contents,
        share,
        wetted,
        stages[SECOND],
    )
    to_third(state, step, stages)
    if not in_range(trial, live):
        return False
    rates_at(
        seconds + 0.75 * step,
        row,
        trial,
        night,
        live,
        side,
        asked,
        contents,
        share,
        wetted,
        stages[THIRD],
    )
    to_end(state, step, stages)
    if not in_range(trial, live):
        return False
    rates_at(
        seconds + step, row, trial, night, live, side, asked, contents, share, wetted, stages[LAST]
    )
    return True


@compiled
def in_range(trial: Floats, live: Switches) -> bool:
    """Whether every live cylinder of a trial has a temperature that can be, and contents."""
    for c in range(live.size):
        start = c * WIDTH
        moles = trial[start + MOLES : start + MOLES + N_COMPONENTS].sum()
        if live[c] and not (COLDEST < trial[start + TEMPERATURE] < HOTTEST and moles > 0.0):
            return False
    return True


@compiled
def step_error(stages: Floats, step: float, state: Floats, live: Switches) -> float:
    """Largest error of a step in kelvins: temperatures as they are, frost and moles weighted."""
    worst = 0.0
    for c in range(live.size):
        if live[c]:
            start = c * WIDTH
            worst = max(worst, defect(stages, start + TEMPERATURE, step))
            worst = max(worst, defect(stages, start + FROST, step) / FROST_TOLERANCE)
            total = 0.0
            moved = 0.0
            for k in range(N_COMPONENTS):
                total += state[start + MOLES + k]
                moved = max(moved, defect(stages, start + MOLES + k, step))
            worst = max(worst, moved / (SHARE_TOLERANCE * total))
    return worst


@compiled
def settle_again(feed: Feed, night: Night, live: Switches) -> None:
    """Take the contents back from a rejected trial."""
    for c in range(live.size):
        if live[c]:
            settle_cylinder_fully(c, feed.state, night, feed.contents)


@compiled
def supply_crossing(step: float, feed: Feed, night: Night, live: Switches, side: Integers) -> float:
    """Part of the trial step at which the supply's pressure falls to the regulator's need."""
    low = 0.0
    high = 1.0
    scratch = np.zeros(feed.state.size)
    for _ in range(40):
        middle = 0.5 * (low + high)
        for i in range(scratch.size):
            scratch[i] = between(feed.state, feed.stages, i, step, middle)
        for c in range(side.size):
            if live[c]:
                settle_cylinder(c, scratch, night, feed.contents)
        if feed_pressure(feed.contents, side) < night.supply[0].minimum:
            high = middle
        else:
            low = middle
    return high


@compiled
def close_energy(c: int, feed: Feed, night: Night) -> float:
    """Return the energy that a step lost to its own error to cylinder ``c``'s temperature.

    The books of the step say what energy the contents must have: what they had, and the heat and
    enthalpy that passed. The trial temperature gives slightly another; one Newton correction with
    the heat capacity mends it (projection onto an invariant: Hairer, Lubich & Wanner 2006,
    Geometric Numerical Integration, IV.4). The books keep the energy, so errors do not add up.

    Returns
    -------
    float
        Heat that the wetted wall gave up over the step [J].
    """
    start = c * WIDTH
    book, contents = feed.books[c], feed.contents[c]
    passed = 0.0
    for i in (WALL_HEAT, FROST_HEAT, HEATER_HEAT):
        passed += feed.stages[TRIAL, start + i] - feed.state[start + i]
    passed -= feed.stages[TRIAL, start + CARRIED_OUT] - feed.state[start + CARRIED_OUT]
    wall = night.cylinders[c].wall_capacity * 0.5 * (book.wetted + feed.wetted[c])
    rise = feed.stages[TRIAL, start + TEMPERATURE] - feed.state[start + TEMPERATURE]
    missing = book.energy + passed - wall * rise - contents.energy
    correction = missing / (contents.heat_capacity + wall)
    feed.stages[TRIAL, start + TEMPERATURE] += correction
    given = -wall * (rise + correction)
    book.energy += passed + given
    book.wetted = feed.wetted[c]
    book.wall_energy += given
    return given


@compiled
def settle_books(c: int, feed: Feed, night: Night) -> None:
    """Settle cylinder ``c`` fully and bring its temperature to the energy in its books.

    In every step one pass and one correction do; what they leave out is mended here, at the end.
    """
    start = c * WIDTH
    book, contents = feed.books[c], feed.contents[c]
    wall = night.cylinders[c].wall_capacity * book.wetted
    for _ in range(20):
        settle_cylinder_fully(c, feed.state, night, feed.contents)
        missing = book.energy - contents.energy
        if abs(missing) <= 1e-12 * abs(book.energy):
            return
        correction = missing / (contents.heat_capacity + wall)
        feed.state[start + TEMPERATURE] += correction
        book.energy -= wall * correction
        book.wall_energy -= wall * correction


@compiled
def keep_books(c: int, feed: Feed, night: Night, feeding: bool, stores: Floats) -> None:
    """Close the energy of a step and note lows, and where the heat for the vapor came from."""
    start = c * WIDTH
    state, trial = feed.state, feed.stages[TRIAL]
    book, contents = feed.books[c], feed.contents[c]
    given = close_energy(c, feed, night)
    temperature = trial[start + TEMPERATURE]
    book.lowest_temperature = min(book.lowest_temperature, temperature)
    book.lowest_pressure = min(book.lowest_pressure, contents.pressure)
    if feeding and feed.share[c] > 0.0:
        margin = contents.pressure - night.supply[0].minimum
        book.lowest_margin = (
            margin if np.isnan(book.lowest_margin) else min(book.lowest_margin, margin)
        )
    rise = temperature - state[start + TEMPERATURE]
    stores[VAPOR] += (book.vapor_moles - contents.vapor_moles) * contents.latent
    stores[SENSIBLE] += given - contents.sensible_capacity * rise
    stores[WALL] += trial[start + WALL_HEAT] - state[start + WALL_HEAT]
    stores[FROST_STORE] += trial[start + FROST_HEAT] - state[start + FROST_HEAT]
    stores[HEATER] += trial[start + HEATER_HEAT] - state[start + HEATER_HEAT]
    book.vapor_moles = contents.vapor_moles


@compiled
def advance(
    seconds: float,
    end: float,
    feed: Feed,
    night: Night,
    live: Switches,
    side: Integers,
    asked: float,
    tolerance: float,
    stores: Floats,
    track: Track,
) -> tuple[float, bool]:
    """Move the live cylinders from ``seconds`` to ``end``, or to where the supply fails.

    The draw is steady, so the room does not matter; weather rows end a step. The first rates in
    the stages must be those of the state. ``stores`` (float64[5]) is added to.

    Returns
    -------
    reached : float
        Time reached [s].
    lost : bool
        Whether the supply fell to the regulator's need there.
    """
    state, stages, contents, _, _, _, pace = feed
    row = find_row(night.weather, seconds, 0)
    step = pace[0]
    while seconds < end and pace[1] <= MOST_STEPS:
        row = find_row(night.weather, seconds, row)
        stop = min(end, night.weather[row + 1].seconds)
        whole = seconds + 1.01 * step >= stop
        length = stop - seconds if whole else step
        possible = take_step(seconds, length, row, feed, night, live, side, asked)
        error = step_error(stages, length, state, live) if possible else np.inf
        pace[1] += 1.0
        if not possible or (error > tolerance and length > SHORTEST_STEP):
            step = next_step(length, error, tolerance)
            settle_again(feed, night, live)
            continue
        step = max(step if whole else 0.0, next_step(length, error, tolerance))
        lost = asked > 0.0 and feed_pressure(contents, side) < night.supply[0].minimum
        if lost:
            whole = False
            length *= supply_crossing(length, feed, night, live, side)
            take_step(seconds, length, row, feed, night, live, side, asked)
        for c in range(side.size):
            if live[c]:
                keep_books(c, feed, night, asked > 0.0, stores)
        g = first_after(track, seconds)
        while in_step(track, g, seconds, length):
            part = part_of_step(track, g, seconds, length)
            for c in range(side.size):
                if live[c]:
                    fill_row(track.cylinders[g, c], part, state, stages, c * WIDTH, length)
            g += 1
        for i in range(state.size):
            state[i] = stages[TRIAL, i]
            stages[FIRST, i] = stages[LAST, i]
        seconds = stop if whole else seconds + length
        if lost:
            return seconds, True
    pace[0] = step
    return seconds, False


@compiled
def rest(feed: Feed, c: int) -> None:
    """Stop the rates of cylinder ``c``: it is not live any more."""
    feed.stages[:, c * WIDTH : (c + 1) * WIDTH] = 0.0


@compiled
def stand(
    c: int,
    since: float,
    until: float,
    feed: Feed,
    night: Night,
    tolerance: float,
    track: Track,
) -> None:
    """Move cylinder ``c``, from which nothing is drawn, by itself.

    A cylinder that is not connected depends on nothing but the weather, so it takes its own long
    steps, and only when its state is wanted. The first rates of the others are lost.
    """
    if until <= since:
        return
    live = np.zeros(night.cylinders.size, np.bool_)
    live[c] = True
    idle = np.full(live.size, -1)
    pace = feed.pace[0]
    feed.pace[0] = FIRST_STEP
    settle_cylinder_fully(c, feed.state, night, feed.contents)
    row = find_row(night.weather, since, 0)
    feed.stages[:] = 0.0
    first_rates(since, row, feed, night, live, idle, 0.0)
    advance(since, until, feed, night, live, idle, 0.0, tolerance, np.zeros(5), track)
    rest(feed, c)
    feed.pace[0] = pace
