"""One run of a trip for its air: as if the gas lasted, with the room's air behind it."""

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from coldsoak.choose.lay_air import AirNight, lay_air
from coldsoak.choose.lay_out import Array
from coldsoak.choose.run import Run, run
from coldsoak.night.air import AirBook, AirTrack, air_of
from coldsoak.physics.combustion import MOLAR_MASS_WATER
from coldsoak.physics.opening import DISCHARGE
from coldsoak.rig.trip import Opening, Shelter, Trip
from coldsoak.weather.table import WeatherTable

FINEST_GRID = 120.0
"""Spacing of the temperatures inside that the air is computed from [s]."""

MOST_ROWS = 6000
"""A longer trip is recorded more coarsely."""

TANK = {
    "water_capacity": 100.0,
    "diameter": 3.0,
    "contents": 20_000.0,
    "start_temperature": 293.15,
    "cover": 20.0,
    "heater": 0.0,
    "upright": False,
}
"""A cylinder that feeds everything for a year in any cold: a flame must be counted for its air even
where the plan says that its gas fails."""


class AirRun(NamedTuple):
    """A run, what its air was exposed to, and its air."""

    done: Run
    night: AirNight
    track: AirTrack

    @property
    def book(self) -> AirBook:
        """What the air came to."""
        return self.track.book


def with_gas(trip: Trip) -> Trip:
    """The same trip with gas that lasts."""
    tank = replace(trip.cylinders[0], role="supply", **TANK)  # type: ignore[arg-type]
    supply = replace(trip.supply, arrangement="one at a time")
    return replace(trip, cylinders=(tank,), supply=supply)


def with_openings(shelter: Shelter, area: float) -> Shelter:
    """The same shelter with openings of this free area [m2] instead of its own.

    Half of it lies at a twentieth and half at nineteen twentieths of the room's height.
    """
    heights = (0.05 * shelter.height, 0.95 * shelter.height)
    openings = tuple(Opening(0.5 * area, height) for height in heights) if area > 0.0 else ()
    whole = shelter.gap_area + DISCHARGE * area
    return replace(shelter, openings=openings, leakage_area=whole)


def air_run(trip: Trip, weather: WeatherTable, outside: WeatherTable) -> AirRun:
    """Run a trip with gas that lasts, then its air.

    `outside` drives the air: the run's weather, or the same without wind. The trip must have a
    shelter.
    """
    assert trip.shelter is not None
    grid = max(FINEST_GRID, trip.length / MOST_ROWS)
    done = run(with_gas(trip), weather, (), grid)
    return air_behind(trip, trip.shelter, outside, done)


def air_behind(trip: Trip, shelter: Shelter, weather: WeatherTable, done: Run) -> AirRun:
    """The air behind a run that recorded its track."""
    night = lay_air(trip, shelter, weather, done)
    return AirRun(done, night, air_of(night.line, night.room, night.limits))


def nights(trip: Trip) -> int:
    """Midnights of a trip, at least one."""
    start = trip.start.hour * 3600.0 + trip.start.minute * 60.0 + trip.start.second
    return max(1, int((start + trip.length) // 86_400.0))


def litres(made: Array, line_seconds: Array) -> float:
    """Water of one kind of source over a whole trip [L]."""
    return float((made[:, 2] * np.diff(line_seconds)).sum()) * MOLAR_MASS_WATER
