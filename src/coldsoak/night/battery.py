"""The battery in time, from one happening to the next.

Within a piece of a stretch the load is steady, and the sun's power and the battery's temperature
run straight: between weather rows, between the knots of the battery's curves, on one side of the
balance of load and charge, and in one bin of the state. There the state is a parabola in time, so
every piece is one closed form and what ends it is the root of a quadratic equation. Where a
stretch is cut in two therefore changes nothing beyond round-off.

Without a battery's own heat capacity it has the temperature of its place.
"""

from typing import NamedTuple

import numpy as np

from coldsoak.night.records import Floats, Record, Table, find_row, part_of_row
from coldsoak.physics.battery import BINS, bin_of, first_root, on_curve, within_reach
from coldsoak.physics.compiled import compiled

KNOTS = 12
"""Most knots of a curve; the last one is repeated to fill up."""

BATTERY = np.dtype(
    [
        ("energy", "f8"),  # rated capacity times rated voltage [J]
        ("exponent", "f8"),  # of Peukert
        ("cold", "f8", (KNOTS,)),  # temperatures of the capacity curve [K]
        ("shares", "f8", (KNOTS,)),  # capacity at them over the rated one
        ("chill", "f8", (KNOTS,)),  # temperatures of the acceptance curve [K]
        ("pace", "f8", (KNOTS,)),  # accepted at them by an empty battery [1/s]
        ("room", "f8", (BINS,)),  # what of that each bin of the state accepts
        ("efficiency", "f8", (BINS,)),  # energy stored over energy accepted
        ("charge_floor", "f8"),  # charging is blocked below this temperature [K]
        ("inside", "?"),  # in the shelter, else in the outside air
        ("cut_out", "f8"),  # share of what it can give that is left when loads are cut off
        ("reconnect", "f8"),  # share at which they come back
        ("state", "f8"),  # at the start
    ]
)
"""The battery; the first fields are those of :class:`coldsoak.physics.battery.Cell`."""

CHARGE = np.dtype(
    [
        ("state", "f8"),  # charge over rated charge
        ("off", "?"),  # whether the low-voltage cut-out has cut the loads off
        ("lowest", "f8"),  # lowest state so far
        ("offered", "f8"),  # energy that the charging sources offered [J]
        ("served", "f8"),  # energy that the loads drew [J]
        ("lost", "f8"),  # energy lost in charging [J]
        ("refused", "f8"),  # energy offered that nobody took [J]
        ("blocked", "f8"),  # of that, because it was too cold to charge [J]
    ]
)
"""The battery's state, and its energy since the start:
stored = offered - served - lost - refused."""

NOTHING = 0
CUT_OUT = 1
RECONNECT = 2

SHORTEST_PIECE = 1e-6
"""A piece is not cut nearer than this to its ends [s]."""

ROUNDING = 1e-12
"""A state this near to the edge of a bin has reached it."""


LEAST_REACH = 0.02
"""Loads that are cut off stay so while the cold leaves less than this of the capacity: the battery
would cut them off again at once."""


class Line(NamedTuple):
    """What runs straight in time."""

    value: float
    """Now."""
    slope: float
    """Per second."""


class Course(NamedTuple):
    """How a piece of a stretch goes."""

    length: float
    """[s]"""
    surplus: Line
    """Charge offered less load served [W]."""
    taken: Line
    """Power that the battery accepts [W]; 0 while it is drained."""
    rate: Line
    """Change of the state [1/s]."""
    blocked: bool
    """Whether it is too cold to charge."""


def begin_charge(battery: Table) -> Table:
    """Charge of the battery at the start, CHARGE[1]."""
    charge = np.zeros(1, CHARGE).view(np.recarray)
    charge.state = charge.lowest = battery.state
    return charge


@compiled
def at(line: Line, seconds: float) -> float:
    """Value of a line some seconds on."""
    return line.value + line.slope * seconds


@compiled
def gone_by(line: Line, seconds: float) -> float:
    """Integral of a line over the next seconds."""
    return seconds * (line.value + 0.5 * seconds * line.slope)


@compiled
def until(line: Line, value: float, end: float) -> float:
    """Time at which a line passes ``value``, if that is well inside (0, end), else ``end``."""
    time = (value - line.value) / line.slope
    return time if SHORTEST_PIECE < time < end else end


@compiled
def until_knot(line: Line, knots: Floats, end: float) -> float:
    """First time well inside (0, end) at which a line passes one of ``knots``, else ``end``."""
    for knot in knots:
        end = until(line, knot, end)
    return end


@compiled
def straight_length(surplus: Line, kelvins: Line, battery: Record, end: float) -> float:
    """How long the balance keeps its sign and the temperature stays between two knots [s]."""
    end = until(surplus, 0.0, end)
    end = until_knot(kelvins, battery.cold, end)
    end = until_knot(kelvins, battery.chill, end)
    return until(kelvins, battery.charge_floor, end)


@compiled
def reach_line(kelvins: Line, drawn: float, battery: Record, length: float) -> Line:
    """Capacity at a load ``drawn`` [W] over the rated one, over a piece between two knots."""
    first = within_reach(kelvins.value, drawn, battery)
    last = within_reach(at(kelvins, length), drawn, battery)
    return Line(first, (last - first) / length)


@compiled
def limit_line(state: float, kelvins: Line, battery: Record, length: float) -> Line:
    """Most power that the battery accepts over a piece, in the bin of ``state`` [W]."""
    if state >= 1.0:
        return Line(0.0, 0.0)
    room = battery.energy * battery.room[bin_of(state)]
    first = room * on_curve(kelvins.value, battery.chill, battery.pace)
    last = room * on_curve(at(kelvins, length), battery.chill, battery.pace)
    return Line(first, (last - first) / length)


@compiled
def course(
    length: float, surplus: Line, kelvins: Line, drawn: float, charge: Record, battery: Record
) -> Course:
    """The first piece of a stretch of ``length`` [s], and how it goes.

    The battery is drained by what the loads draw beyond the charge offered. Else it takes what
    is left over or what it accepts, the smaller, until its state has filled its bin.
    """
    state = charge.state
    length = straight_length(surplus, kelvins, battery, length)
    if charge.off:
        reach = reach_line(kelvins, drawn, battery, length)
        length = until(reach, LEAST_REACH, length)
    nothing = Line(0.0, 0.0)
    if at(surplus, 0.5 * length) < 0.0:
        rate = Line(surplus.value / battery.energy, surplus.slope / battery.energy)
        return Course(length, surplus, nothing, rate, False)
    if at(kelvins, 0.5 * length) < battery.charge_floor:
        return Course(length, surplus, nothing, nothing, True)
    taken = limit_line(state, kelvins, battery, length)
    spare = Line(surplus.value - taken.value, surplus.slope - taken.slope)
    length = until(spare, 0.0, length)
    if at(spare, 0.5 * length) < 0.0:
        taken = surplus
    part = bin_of(state)
    gain = battery.efficiency[part] / battery.energy
    rate = Line(gain * taken.value, gain * taken.slope)
    missing = (part + 1) / BINS - state
    filled = first_root(-missing, rate.value, rate.slope, length) if missing > 0.0 else length
    return Course(min(length, filled), surplus, taken, rate, False)


@compiled
def time_to_mark(sign: float, kept: float, reach: Line, piece: Course, state: float) -> float:
    """When the share ``kept`` of what the battery can give is left in it [s].

    Infinite if it is not passed in this piece; 0 if it is passed already: with ``sign`` 1 if
    less is left, with -1 if more is.
    """
    gap = state - 1.0 + reach.value * (1.0 - kept)
    if sign * gap <= 0.0:
        return 0.0
    closing = piece.rate.value + reach.slope * (1.0 - kept)
    return first_root(gap, closing, piece.rate.slope, piece.length)


@compiled
def happening(
    drawn: float, kelvins: Line, piece: Course, charge: Record, battery: Record
) -> tuple[float, int]:
    """When loads are cut off or come back in this piece [s], infinite for never, and which.

    Loads are cut off only while the battery is being drained, and do not come back while the
    cold leaves hardly anything to give.
    """
    if not charge.off and at(piece.surplus, 0.5 * piece.length) >= 0.0:
        return np.inf, NOTHING
    reach = reach_line(kelvins, drawn, battery, piece.length)
    if not charge.off:
        return time_to_mark(1.0, battery.cut_out, reach, piece, charge.state), CUT_OUT
    if at(reach, 0.5 * piece.length) < LEAST_REACH:
        return np.inf, NOTHING
    return time_to_mark(-1.0, battery.reconnect, reach, piece, charge.state), RECONNECT


@compiled
def move(length: float, served: float, piece: Course, charge: Record, battery: Record) -> None:
    """Bring state and books forward by ``length`` [s] of a piece."""
    taken = gone_by(piece.taken, length)
    gained = gone_by(piece.rate, length)
    surplus = gone_by(piece.surplus, length)
    charge.state += gained
    charge.offered += surplus + served * length
    charge.served += served * length
    if at(piece.surplus, 0.5 * piece.length) >= 0.0:
        charge.lost += taken - gained * battery.energy
        charge.refused += surplus - taken
        charge.blocked += surplus if piece.blocked else 0.0
        edge = np.rint(charge.state * BINS) / BINS
        if abs(charge.state - edge) < ROUNDING:
            charge.state = edge
    charge.lowest = min(charge.lowest, charge.state)


@compiled
def advance_battery(
    seconds: float,
    end: float,
    row: int,
    load: float,
    charger: float,
    inside: float,
    inside_at_end: float,
    battery: Record,
    charge: Record,
    weather: Table,
    solar: Floats,
) -> tuple[float, int]:
    """Move the battery from ``seconds`` to ``end``, or to where loads are cut off or come back.

    Parameters
    ----------
    seconds, end : float
        [s]
    row : int
        A weather row that begins at or before ``seconds``.
    load : float
        Power of all loads that are on [W], also of those that the cut-out has cut off.
    charger : float
        Power of alternator and shore charger [W].
    inside, inside_at_end : float
        Temperature of the shelter at both ends [K], straight between; not read for a battery in
        the outside air.
    battery, charge : BATTERY, CHARGE
    weather : WEATHER[n]
    solar : float64[n]
        Power of the panels at the weather's rows, straight between [W].

    Notes
    -----
    What the battery can give is judged by the steady load less the steady charger; the sun only
    saves charge.

    Returns
    -------
    float
        Time reached [s].
    int
        CUT_OUT, RECONNECT or NOTHING; ``charge.off`` tells what holds from there on. The time is
        ``seconds`` itself where a greater load or a colder battery is too much at once.
    """
    drawn = max(0.0, load - charger)
    warming = (inside_at_end - inside) / (end - seconds)
    begun = seconds
    while seconds < end:
        row = find_row(weather, seconds, row)
        stop = min(end, weather[row + 1].seconds)
        span = weather[row + 1].seconds - weather[row].seconds
        part = part_of_row(weather, row, seconds)
        brighter = (solar[row + 1] - solar[row]) / span
        served = 0.0 if charge.off else load
        surplus = Line(
            solar[row] + part * (solar[row + 1] - solar[row]) + charger - served, brighter
        )
        warmer = weather[row + 1].air - weather[row].air
        kelvins = Line(inside + warming * (seconds - begun), warming)
        if not battery.inside:
            kelvins = Line(weather[row].air + part * warmer, warmer / span)
        piece = course(stop - seconds, surplus, kelvins, drawn, charge, battery)
        when, what = happening(drawn, kelvins, piece, charge, battery)
        if when <= piece.length:
            move(when, served, piece, charge, battery)
            charge.off = what == CUT_OUT
            return seconds + when, what
        move(piece.length, served, piece, charge, battery)
        seconds = stop if piece.length >= stop - seconds else seconds + piece.length
    return seconds, NOTHING
