"""Holds, thin or fails: the nominal run, and the same trip made harsher."""

from typing import NamedTuple

from coldsoak.choose.answer import Verdict
from coldsoak.choose.run import Run, Swaps, colder, emptier, first_failure, run
from coldsoak.choose.swaps import plan_swaps
from coldsoak.errors import TripError
from coldsoak.night.feed import MOST_STEPS
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
        The trip asks for more steps than any real one: a number in it is far out of scale.
    """
    swaps = plan_swaps(trip, weather)
    nominal = run(trip, weather, swaps, grid)
    if nominal.outcome.steps > MOST_STEPS:
        raise TripError(
            "the trip changes too fast to be computed",
            "look for a shelter mass, a thermostat time or a cylinder far out of scale",
            file=None if trip.path is None else str(trip.path),
        )
    if first_failure(nominal.outcome) is not None:
        return Decided(swaps, nominal, "fails")
    harsher = run(emptier(trip, EMPTIER), colder(weather, COLDER), swaps)
    thin = first_failure(harsher.outcome) is not None
    return Decided(swaps, nominal, "thin" if thin else "holds")
