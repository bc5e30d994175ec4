"""What a battery gives and takes: cold, rate of discharge, charge acceptance, efficiency.

Its state is the charge in it over the charge that it gives when new, full, at 25 C and at the
20-hour rate. Charge is conserved: cold and a high rate of discharge do not use charge up, they
leave more of it out of reach, and it comes back within reach when the battery warms or the load
falls (Doerffel & Abu Sharkh 2006, A critical review of using the Peukert equation, J. Power
Sources 155, 395-400). Energy is charge times the rated voltage; the higher voltage of charging is
part of the efficiency. Ageing and self-discharge (a few percent a month) are not in it.

What a kind of battery is made of (curves, exponent, efficiencies) is data that the caller passes
in as a :class:`Cell`, or as any record whose fields have the same names.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from coldsoak.physics.compiled import compiled

Floats = NDArray[np.float64]

RATED_HOURS = 20 * 3600.0
"""Time in which a battery is discharged to rate it [s]."""

BINS = 20
"""Equal parts of the state, empty to full, in each of which charging has one efficiency."""


class Cell(NamedTuple):
    """What makes a battery what it is."""

    energy: float
    """Rated capacity times rated voltage, 20-hour rate, 25 C [J]; above 0."""
    exponent: float
    """Peukert exponent, 1 or more."""
    cold: Floats
    """Temperatures of the capacity curve, ascending [K]."""
    shares: Floats
    """Capacity over rated capacity at those temperatures, 0 to 1, not falling."""
    chill: Floats
    """Temperatures of the acceptance curve, ascending [K]."""
    pace: Floats
    """Charge that an empty battery accepts per time at those temperatures, over the rated one
    [1/s]."""
    room: Floats
    """What of that pace is accepted in each bin of the state, 0 to 1, float64[BINS]."""
    efficiency: Floats
    """Energy stored over energy accepted in each bin of the state, float64[BINS]."""
    charge_floor: float
    """Charging is blocked below this temperature [K]."""


@compiled
def on_curve(at: float, knots: Floats, values: Floats) -> float:
    """Value at ``at`` of a curve that runs straight between its knots and level beyond them.

    ``knots`` ascend; equal ones at the end are padding.

    >>> on_curve(5.0, np.array([0.0, 10.0, 10.0]), np.array([0.0, 2.0, 2.0]))
    1.0
    """
    if at <= knots[0]:
        return float(values[0])
    for i in range(1, knots.size):
        if at <= knots[i]:
            part = (at - knots[i - 1]) / (knots[i] - knots[i - 1])
            return float(values[i - 1] + part * (values[i] - values[i - 1]))
    return float(values[-1])


@compiled
def rate_share(load: float, cell: Cell) -> float:
    """Capacity at a steady ``load`` [W] over that at the 20-hour rate, at most 1.

    Peukert (1897) in the form C/C20 = (I20/I)^(k-1), with power for current at the rated voltage.
    Slower discharge than the 20-hour rate gives no more. It holds for a steady discharge to the
    end; a load that comes and goes is judged by its own rate while it runs, the safe side.

    >>> cell = Cell(72000.0, 1.2, *(np.zeros(1),) * 6, 0.0)
    >>> rate_share(1.0, cell), round(rate_share(32.0, cell), 3)
    (1.0, 0.5)
    """
    rated = cell.energy / RATED_HOURS
    if load <= rated:
        return 1.0
    return float((rated / load) ** (cell.exponent - 1.0))


@compiled
def within_reach(temperature: float, load: float, cell: Cell) -> float:
    """Capacity at a temperature [K] and a steady load [W] over the rated one, 0 to 1."""
    return on_curve(temperature, cell.cold, cell.shares) * rate_share(load, cell)


@compiled
def state_keeping(kept: float, temperature: float, load: float, cell: Cell) -> float:
    """State at which the share ``kept`` (0 to 1) of what the battery can give is still in it.

    With nothing kept it is the state at which the battery can run the load no longer, which
    is how the rated capacity is measured too: to 1.75 V a cell of lead-acid under its load.
    """
    return 1.0 - within_reach(temperature, load, cell) * (1.0 - kept)


@compiled
def usable(state: float, temperature: float, load: float, cell: Cell) -> float:
    """What is left in the battery over what it can give at this cold and load, 0 to 1.

    Nothing where cold leaves no capacity at all.
    """
    reach = within_reach(temperature, load, cell)
    if reach <= 0.0:
        return 0.0
    return min(1.0, max(0.0, (state - (1.0 - reach)) / reach))


@compiled
def bin_of(state: float) -> int:
    """Bin of the state, its lower edge included to within 1e-9 of a bin."""
    return min(BINS - 1, max(0, int(state * BINS + 1e-9)))


@compiled
def charge_limit(state: float, temperature: float, cell: Cell) -> float:
    """Most power that the battery accepts [W]: nothing below its charging floor or when full.

    For lead-acid the ampere-hour law (Woodbridge 1935): no more amperes than ampere-hours are
    missing, here in steps of one bin, and less in the cold. For lithium iron phosphate the
    makers' limit at this temperature.
    """
    if temperature < cell.charge_floor or state >= 1.0:
        return 0.0
    room = float(cell.room[bin_of(state)])
    return cell.energy * room * on_curve(temperature, cell.chill, cell.pace)


@compiled
def state_rate(state: float, temperature: float, load: float, charge: float, cell: Cell) -> float:
    """Change of the state with time [1/s].

    Parameters
    ----------
    state : float
        Charge over rated charge, 0 to 1.
    temperature : float
        Of the battery [K].
    load : float
        What the loads draw [W].
    charge : float
        What the charging sources offer [W]. They feed the loads first; of the rest the battery
        takes what it accepts and stores it with the efficiency of its state.
    """
    surplus = charge - load
    if surplus <= 0.0:
        return surplus / cell.energy
    accepted = min(surplus, charge_limit(state, temperature, cell))
    return float(cell.efficiency[bin_of(state)]) * accepted / cell.energy


@compiled
def first_root(gap: float, slope: float, bend: float, end: float) -> float:
    """First time in (0, end] at which gap + slope t + bend t^2 / 2 is 0; infinite if there is none.

    ``gap`` is not 0; the roots are taken in the form without cancellation.

    >>> first_root(3.0, -4.0, 2.0, 10.0)
    1.0
    """
    square = slope * slope - 2.0 * bend * gap
    if square < 0.0:
        return np.inf
    half = -(slope + np.copysign(np.sqrt(square), slope))
    first = np.inf
    for root in (half / bend, 2.0 * gap / half):
        if 0.0 < root <= end:
            first = min(first, root)
    return float(first)
