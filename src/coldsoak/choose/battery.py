"""From the battery of a trip to the records that the march takes."""

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from coldsoak.night.battery import BATTERY, KNOTS
from coldsoak.night.records import Table, table
from coldsoak.physics.battery import BINS
from coldsoak.rig.electric import Battery, Charger, Curve, Kind, Load

Array = NDArray[np.float64]
Spans = Callable[[float, float], list[tuple[float, float]]]
"""Spans of the trip [s since the start] that a daily window [s since midnight] stands for."""


class Power(NamedTuple):
    """Powers from a time on [s since the start]: of all loads, and of all chargers [W]."""

    seconds: float
    load: float
    charger: float


def lay_battery(battery: Battery) -> Table:
    """The battery, BATTERY[1]."""
    kind = battery.kind
    columns: dict[str, Any] = {
        name: getattr(battery, name)
        for name in ("energy", "inside", "cut_out", "reconnect", "state")
    }
    columns |= {
        "exponent": kind.exponent,
        "cold": knots(kind.capacity, 0),
        "shares": knots(kind.capacity, 1),
        "chill": knots(kind.acceptance, 0),
        "pace": knots(kind.acceptance, 1),
        "room": room(kind),
        "efficiency": efficiency(kind),
        "charge_floor": kind.charge_floor,
    }
    return table(BATTERY, columns, 1)


def knots(curve: Curve, column: int) -> Array:
    """One column of a curve, its last value repeated to KNOTS."""
    values = [point[column] for point in curve]
    return np.array(values + values[-1:] * (KNOTS - len(values)))


def middles() -> Array:
    """The middle state of every bin."""
    return (np.arange(BINS) + 0.5) / BINS


def room(kind: Kind) -> Array:
    """What each bin accepts of what an empty battery does: what is missing, if it tapers."""
    return 1.0 - middles() if kind.tapers else np.ones(BINS)


def efficiency(kind: Kind) -> Array:
    """Energy stored over energy accepted in each bin."""
    ends, values = (np.array(column) for column in zip(*kind.efficiency, strict=True))
    return np.asarray(values[np.searchsorted(ends, middles())])


def powers(battery: Battery, spans: Spans) -> list[Power]:
    """Loads and chargers as steps in time, the first at 0; solar and appliances are not in it."""
    on = [(load.power, 0.0, span) for load in battery.loads for span in when(load, spans)]
    chargers: tuple[Charger, ...] = battery.alternator + battery.shore
    on += [(0.0, each.power, span) for each in chargers for span in spans(*each.window)]
    edges = {0.0, *(edge for _, _, span in on for edge in span)}
    return [
        Power(
            time,
            sum(load for load, _, (begin, end) in on if begin <= time < end),
            sum(charger for _, charger, (begin, end) in on if begin <= time < end),
        )
        for time in sorted(edges - {np.inf})
    ]


def when(load: Load, spans: Spans) -> list[tuple[float, float]]:
    """When a load is on [s since the start]."""
    if load.use == "always":
        return [(0.0, np.inf)]
    return [span for window in load.use for span in spans(*window)]


def cold_notes(battery: Battery, coldest: float, lowest: float, blocked: float) -> list[str]:
    """What the cold does to a battery that a plan must say.

    Parameters
    ----------
    battery : Battery
    coldest : float
        Lowest temperature of the battery [K].
    lowest : float
        Lowest state of charge, 0 to 1.
    blocked : float
        Energy that it refused because it was too cold to charge [J].
    """
    kind, notes = battery.kind, []
    if coldest < kind.weak_below:
        notes.append(
            f"Below {kind.weak_below - 273.15:.0f} degC little is published on how much a "
            f"{kind.name} battery gives: its capacity there is a guess."
        )
    if blocked > 0.0:
        notes.append(
            f"{blocked / 3.6e6:.2f} kWh of charge was refused: a {kind.name} battery must not be "
            f"charged below {kind.charge_floor - 273.15:.0f} degC."
        )
    if kind.freezes and coldest < (point := freezing_point(kind, lowest)):
        notes.append(
            f"At {lowest:.0%} charge the acid of the battery freezes at "
            f"{point - 273.15:.0f} degC, and ice can burst it: charge it or keep it warm."
        )
    return notes


def freezing_point(kind: Kind, state: float) -> float:
    """Freezing point of the acid at a state of charge [K]."""
    states, points = zip(*kind.freezes, strict=True)
    return float(np.interp(state, states, points))
