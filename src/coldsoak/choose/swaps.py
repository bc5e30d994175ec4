"""When to change cylinders so that nobody has to do it at night."""

from coldsoak.choose.lay_out import DAY, sides
from coldsoak.choose.run import Swaps, run
from coldsoak.night.march import EMPTY, RESIDUE, VAPOR_LIMITED
from coldsoak.rig.trip import Trip
from coldsoak.weather.table import WeatherTable

LEAD = 3600.0
"""A cylinder is changed at least this long before it would fail [s]."""

NIGHT = (22 * 3600.0, 7 * 3600.0)
"""Sleeping hours where the trip names none [s since midnight]."""

SUPPLY = (VAPOR_LIMITED, EMPTY, RESIDUE)
"""Causes that another cylinder can mend."""


def clock(trip: Trip, seconds: float) -> float:
    """What the clock shows ``seconds`` after the start [s since midnight]."""
    start = trip.start.hour * 3600.0 + trip.start.minute * 60.0 + trip.start.second
    return (start + seconds) % DAY


def sleeping_hours(trip: Trip) -> tuple[float, float]:
    """When people sleep [s since midnight], from the trip or as commonly."""
    return NIGHT if trip.people is None else trip.people.asleep


def last_awake(trip: Trip, seconds: float) -> float:
    """Last time at or before ``seconds`` at which somebody is awake, and not before the start."""
    begin, end = sleeping_hours(trip)
    asleep_for = (clock(trip, seconds) - begin) % DAY
    if asleep_for < (end - begin) % DAY:
        seconds -= asleep_for
    return max(0.0, seconds)


def connected(trip: Trip, swaps: Swaps) -> list[int]:
    """Cylinders that are connected after all ``swaps``."""
    at = {c for c, side in enumerate(sides(trip)) if side >= 0}
    for _, off, on in swaps:
        at.discard(off)
        at.add(on)
    return sorted(at)


def supply_failure(trip: Trip, weather: WeatherTable, swaps: Swaps) -> float | None:
    """Time at which the cylinders first fail to feed [s], None if they never do."""
    failed = run(trip, weather, swaps).outcome.failures.seconds
    first = float(min(failed[cause] for cause in SUPPLY))
    return first if first < trip.length else None


def plan_swaps(trip: Trip, weather: WeatherTable) -> list[tuple[float, int, int]]:
    """Changes of cylinders, each made in waking hours before the connected ones fail.

    Spares are used in the order of the file. A change is made in the last waking hour that leaves
    ``LEAD``; of the connected cylinders that one is taken off whose change lasts longest. Changes
    stop when nothing fails, no spare is left, or none of them helps.
    """
    swaps: list[tuple[float, int, int]] = []
    spare = [c for c, side in enumerate(sides(trip)) if side < 0]
    failure = supply_failure(trip, weather, swaps)
    while failure is not None and spare:
        when = last_awake(trip, failure - LEAD)
        when = max(when, swaps[-1][0] if swaps else 0.0)
        options = []
        for off in connected(trip, swaps):
            trial = [*swaps, (when, off, spare[0])]
            lasts = supply_failure(trip, weather, trial)
            options.append((trip.length if lasts is None else lasts, -off, trial))
        best = max(options)
        spare.pop(0)
        if best[0] > failure:
            swaps = best[2]
            failure = best[0] if best[0] < trip.length else None
    return swaps


def why(trip: Trip, swap: tuple[float, int, int], failure: float) -> str:
    """Why a change is made when it is: what would happen at ``failure`` [s] without it."""
    name = trip.cylinders[swap[1]].name
    begin, end = sleeping_hours(trip)
    if (clock(trip, failure) - begin) % DAY < (end - begin) % DAY:
        return f"{name} would stop feeding while people sleep"
    return f"{name} would stop feeding within hours"
