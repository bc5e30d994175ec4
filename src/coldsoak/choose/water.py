"""When the water of a trip is at 0 C and when it is ice, from the temperatures of a run."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from coldsoak.physics.freezing import Body, freeze, pipe, tank
from coldsoak.rig.water import Pipe, Water

Array = NDArray[np.float64]


class Air(NamedTuple):
    """The air around the water in time, straight between the times."""

    seconds: Array
    """Since the start [s]."""
    inside: Array
    """In the shelter [K]; not read for water outside."""
    outside: Array
    """[K]"""
    wind: Array
    """At the water outside [m/s]."""
    pressure: float
    """Of the station [Pa]."""


class WaterEnd(NamedTuple):
    """What one tank or pipe comes to; None for what does not happen in the trip."""

    name: str
    cold_hours: float | None
    """When it reaches 0 C [h since the start]."""
    frozen_hours: float | None
    """When its share of ice reaches the one asked for [h since the start]."""
    most_ice: float
    """Largest share of ice, 0 to 1."""


def body_of(water: Water) -> Body:
    """Shape and insulation."""
    held_in = water.held_in
    if isinstance(held_in, Pipe):
        return pipe(held_in.diameter, water.insulation)
    return tank(held_in.volume, held_in.area, water.insulation)


def follow_water(water: Water, air: Air) -> WaterEnd:
    """Follow one tank or pipe through the trip.

    It starts at the temperature of the air around it, and at no less than 0 C.
    """
    around = air.inside if water.inside else air.outside
    wind = np.zeros_like(air.wind) if water.inside else air.wind
    found = freeze(
        air.seconds, around, wind, float(around[0]), water.ice, body_of(water), air.pressure
    )
    return WaterEnd(water.name, hours(found.cold), hours(found.frozen), found.most_ice)


def hours(seconds: float) -> float | None:
    """Hours of a time that may not come."""
    return None if np.isnan(seconds) else seconds / 3600.0
