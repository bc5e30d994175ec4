"""One run of a trip through the march, and what can be read off it."""

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from coldsoak.choose.lay_out import lay_out
from coldsoak.errors import TripError
from coldsoak.night import march
from coldsoak.night.cylinder import (
    CARRIED_OUT,
    FROST_HEAT,
    HEATER_HEAT,
    MOLES,
    WALL_HEAT,
    WIDTH,
)
from coldsoak.night.feed import MOST_STEPS
from coldsoak.night.records import Floats, Night
from coldsoak.night.room import GAINED, HEAVY, INSIDE, LOST
from coldsoak.physics.combustion import gross_heating_value
from coldsoak.physics.fuel import MOLAR_MASS, N_COMPONENTS
from coldsoak.physics.moistair import saturation
from coldsoak.rig.trip import Trip
from coldsoak.weather.table import WeatherTable

TOLERANCE = 2e-4
"""Error of a step that a plan allows [K]."""

LEAST_BURNED = 1e-3
"""Errors are relative to what was burned, and to no less than this [kg]."""

Swaps = Sequence[tuple[float, int, int]]
"""Changes of cylinders: seconds since the start, the one taken off, the one put on."""


class Run(NamedTuple):
    """What went into the march and what came out."""

    night: Night
    outcome: march.Outcome


def run(trip: Trip, weather: WeatherTable, swaps: Swaps = (), grid: float = 0.0) -> Run:
    """March through a trip; ``grid`` is the spacing of the recorded track [s], 0 for none.

    Raises
    ------
    TripError
        The trip asks for more steps than any real one: a number in it is far out of scale.
    """
    night = lay_out(trip, weather, swaps)
    outcome = march.march(night, TOLERANCE, grid)
    if outcome.steps > MOST_STEPS:
        raise TripError(
            "the trip changes too fast to be computed",
            "look for a shelter mass, a thermostat time or a cylinder far out of scale",
            file=None if trip.path is None else str(trip.path),
        )
    return Run(night, outcome)


def first_failure(outcome: march.Outcome) -> tuple[float, int] | None:
    """Time [s] and cause (number in :data:`coldsoak.night.march.CAUSES`) of the first failure."""
    cause = int(np.argmin(outcome.failures.seconds))
    seconds = float(outcome.failures.seconds[cause])
    return (seconds, cause) if np.isfinite(seconds) else None


def cylinder_rows(outcome: march.Outcome) -> Floats:
    """State of every cylinder at the end, float64[c, WIDTH]."""
    return outcome.state[:-1].reshape(-1, WIDTH)


def moles_left(outcome: march.Outcome) -> Floats:
    """Contents of every cylinder at the end, float64[c, k] [mol]."""
    return cylinder_rows(outcome)[:, MOLES : MOLES + N_COMPONENTS]


def left(outcome: march.Outcome) -> Floats:
    """Fuel in every cylinder at the end, float64[c] [kg]."""
    return moles_left(outcome) @ MOLAR_MASS


def mass_error(done: Run) -> float:
    """Mass that appeared or went missing, over what was burned (at least 1 g)."""
    start = float((done.night.cylinders.moles @ MOLAR_MASS).sum())
    used = float(done.outcome.burned.sum())
    error = start - float(left(done.outcome).sum()) - used
    return abs(error) / max(used, LEAST_BURNED)


def energy_error(done: Run) -> float:
    """Energy that appeared or went missing, over the gross heat of what was burned (at least 1 g).

    The contents' energy at start and end, found anew from temperature and moles, against the heat
    and enthalpy that passed; and the same for the room.
    """
    night, outcome = done
    rows = cylinder_rows(outcome)
    passed = rows[:, WALL_HEAT] + rows[:, FROST_HEAT] + rows[:, HEATER_HEAT] - rows[:, CARRIED_OUT]
    error = float(np.abs(outcome.fluid_energy - outcome.books.wall_energy - passed).sum())
    if night.heated:
        room, cabin = outcome.room, night.cabin[0]
        held = cabin.light_capacity * (room[INSIDE] - cabin.temperature)
        held += cabin.heavy_capacity * (room[HEAVY] - cabin.temperature)
        error += abs(float(held - room[GAINED] + room[LOST]))
    moles = night.cylinders.moles[0]
    value = gross_heating_value(moles / moles.sum())
    return error / (value * max(float(outcome.burned.sum()), LEAST_BURNED))


def colder(weather: WeatherTable, kelvins: float) -> WeatherTable:
    """The same weather with air and sky colder by ``kelvins``, no wetter than saturated."""
    air = weather.air - kelvins
    saturated = np.array([saturation(t)[0] for t in air])
    return replace(
        weather,
        air=air,
        sky=weather.sky - kelvins,
        vapor_pressure=np.minimum(weather.vapor_pressure, saturated),
    )


def emptier(trip: Trip, share: float) -> Trip:
    """The same trip with all contents smaller by ``share`` (0 to 1)."""
    return replace(
        trip,
        cylinders=tuple(replace(c, contents=c.contents * (1.0 - share)) for c in trip.cylinders),
    )
