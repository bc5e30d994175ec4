"""Which open cylinder feeds how much: check valves, equal pressure, automatic changeover."""

from coldsoak.night.records import Floats, Integers, Table
from coldsoak.physics.compiled import compiled

BAND = 5000.0
"""Pressure over which a cylinder that falls behind another hands its share over [Pa].

The droop of pigtails, check valves and changeover regulators; common practice, no source. It only
smooths who feeds: the pressure of the better cylinder is what the regulator sees.
"""


@compiled
def highest(contents: Table, side: Integers, which: int) -> float:
    """Highest pressure among the cylinders on side ``which`` [Pa], zero if there is none."""
    found = 0.0
    for c in range(side.size):
        if side[c] == which:
            found = max(found, contents[c].pressure)
    return found


@compiled
def share_side(contents: Table, side: Integers, which: int, part: float, share: Floats) -> None:
    """Spread ``part`` of the draw over the open cylinders of one side, none flowing backward.

    With equal small resistances each cylinder feeds in proportion to its pressure above the
    header's, ``(P - P_header) / BAND``; those below it are shut off by their check valves.
    """
    floor = 0.0
    while True:
        total = 0.0
        count = 0
        for c in range(side.size):
            if side[c] == which and contents[c].pressure > floor:
                total += contents[c].pressure
                count += 1
        header = (total - BAND) / max(count, 1)
        if header <= floor or count == 1:
            break
        floor = header
    for c in range(side.size):
        if side[c] == which:
            share[c] = part * max(0.0, contents[c].pressure - header) / BAND


@compiled
def shares(contents: Table, side: Integers, changeover: float, share: Floats) -> None:
    """Fill ``share`` with each cylinder's part of the draw (sum 1).

    Parameters
    ----------
    contents : CONTENTS[c]
        What is in each cylinder.
    side : int64[c]
        0 supply, 1 reserve, -1 not connected.
    changeover : float
        Absolute pressure of the supply side below which the reserve side helps [Pa].
    share : float64[c]
        Filled; zero for cylinders that are not connected.

    Notes
    -----
    The supply side feeds all while its pressure is ``BAND`` above the set point, nothing at the
    set point; a reserve whose pressure is lower than the supply side's cannot help.
    """
    share[:] = 0.0
    first = highest(contents, side, 0)
    second = highest(contents, side, 1)
    if second == 0.0:
        part = 1.0
    elif first == 0.0:
        part = 0.0
    else:
        part = min(1.0, max(0.0, first - changeover, first - second) / BAND)
    if first > 0.0:
        share_side(contents, side, 0, part, share)
    if second > 0.0:
        share_side(contents, side, 1, 1.0 - part, share)


@compiled
def feed_pressure(contents: Table, side: Integers) -> float:
    """Pressure that the regulator sees: that of the best open cylinder [Pa]."""
    return max(highest(contents, side, 0), highest(contents, side, 1))
