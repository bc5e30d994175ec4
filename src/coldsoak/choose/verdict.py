"""Holds, thin or fails: the nominal run, and the same trip made harsher."""

from typing import NamedTuple

from coldsoak.choose.answer import Verdict
from coldsoak.choose.run import Run, Swaps, colder, emptier, first_failure, run
from coldsoak.choose.swaps import plan_swaps
from coldsoak.rig.trip import Trip
from coldsoak.weather.table import WeatherTable

COLDER = 3.0
"""How much colder a trip must still hold [K]."""
EMPTIER = 0.03
"""Part of the contents that may be missing in a trip that still holds."""


class Decided(NamedTuple):
    """The nominal run with its changes of cylinders, and the verdict."""

    swaps: Swaps
    nominal: Run
    verdict: Verdict


def decide(trip: Trip, weather: WeatherTable, grid: float = 0.0) -> Decided:
    """Plan the changes of cylinders, run the trip with them, and run it again made harsher.

    Raises
    ------
    TripError
        The trip cannot be computed (:func:`coldsoak.choose.run.run`).
    """
    swaps = plan_swaps(trip, weather)
    nominal = run(trip, weather, swaps, grid)
    if first_failure(nominal.outcome) is not None:
        return Decided(swaps, nominal, "fails")
    harsher = run(emptier(trip, EMPTIER), colder(weather, COLDER), swaps)
    thin = first_failure(harsher.outcome) is not None
    return Decided(swaps, nominal, "thin" if thin else "holds")
