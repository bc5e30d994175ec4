"""The demo shelter in the heating test of caravans, and against the closed form of two nodes.

The standard's grade 3: after a cold soak of 10 h or more at -15 degC the heating is switched on, 20
degC must be reached within 4 h, and held. The shelter's numbers are those of the demo trip, kept in
``data/cold_chamber.toml``.
"""

from dataclasses import replace
from functools import cache
from importlib.resources import files
from pathlib import Path

import numpy as np

from coldsoak.checks.check import Check
from coldsoak.checks.printed import printed
from coldsoak.checks.table import rows
from coldsoak.checks.units import FREEZING
from coldsoak.choose.run import run
from coldsoak.night.march import CAUSES, Outcome
from coldsoak.physics.fuel import Vector
from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import ConstantWeather, Trip
from coldsoak.weather.read import read_weather

SUBJECT = "heating of a shelter"

HOUR = 3600.0
MINUTE = 60.0
INSIDE = 20.0 + FREEZING
"""What the test asks for inside [K]."""

MARCHED = 0.02
"""How far the march may miss the closed form [K]: some ten steps of 2e-3 K each."""


@cache
def chamber() -> Trip:
    """The demo shelter in the cold chamber, warm at the start."""
    text = (files("coldsoak.checks") / "data/cold_chamber.toml").read_text("utf-8")
    return parse_trip(text, "cold_chamber.toml")


def outside() -> float:
    """Air of the chamber [K]."""
    weather = chamber().weather
    assert isinstance(weather, ConstantWeather)
    return weather.temperature


def starting_at(trip: Trip, temperature: float) -> Trip:
    """The same trip with all of the shelter at a temperature [K] at the start."""
    assert trip.shelter is not None
    return replace(trip, shelter=replace(trip.shelter, start_temperature=temperature))


def unheated(trip: Trip) -> Trip:
    """The same trip with nothing burning."""
    return replace(trip, appliances=())


def tight(trip: Trip) -> Trip:
    """The same trip without leaks, which the closed form does not know."""
    assert trip.shelter is not None
    return replace(trip, shelter=replace(trip.shelter, leakage_area=0.0))


def burning(trip: Trip) -> Trip:
    """The same trip with the furnace burning all the time."""
    return replace(trip, appliances=tuple(replace(a, use="always") for a in trip.appliances))


def march(trip: Trip) -> Outcome:
    """The outcome of a trip, its room recorded every minute."""
    weather = read_weather(
        trip.weather, start=trip.start, length=trip.length, place=trip.place, folder=Path()
    )
    return run(trip, weather, grid=MINUTE).outcome


def two_nodes(trip: Trip, start: float, gain: float, seconds: Vector) -> Vector:
    """Both nodes [K] of a tight shelter over time, float64[2, n], in closed form.

    Above the outside air they obey x' = A (x - x_end) with x_end = gain / UA for both, whose
    solution is x = x_end + V exp(l t) V^-1 (x0 - x_end), l and V the eigenvalues and eigenvectors
    of A.

    Parameters
    ----------
    trip : Trip
    start, gain : float
        Temperature of both nodes at the start [K], heat into the light node [W].
    seconds : float64[n]
        [s]
    """
    shelter = trip.shelter
    assert shelter is not None
    loss, across = shelter.ua_air, shelter.coupling
    light, heavy = shelter.light_capacity, shelter.heavy_capacity
    rates = np.array(
        [[-(loss + across) / light, across / light], [across / heavy, -across / heavy]]
    )
    values, vectors = np.linalg.eig(rates)
    end = np.full(2, gain / loss)
    parts = np.linalg.solve(vectors, start - outside() - end)
    return np.asarray(
        outside() + end[:, None] + vectors @ (parts[:, None] * np.exp(np.outer(values, seconds)))
    )


def soak_hours() -> float:
    """Hours until the air inside, leaks and all, has come within 1 K of the chamber's."""
    track = march(starting_at(unheated(chamber()), INSIDE)).track
    warm = track.room > outside() + 1.0
    return float(track.seconds[np.flatnonzero(warm)[-1] + 1]) / HOUR


def heated() -> tuple[Vector, Vector]:
    """Time [s] and temperature inside [K] of the test from the switching on."""
    track = march(starting_at(chamber(), outside())).track
    return track.seconds, track.room


def warm_up(seconds: Vector, inside: Vector) -> float:
    """Time [s] at which the inside first has the test's temperature."""
    return float(seconds[np.argmax(inside >= INSIDE)])


def held(seconds: Vector, inside: Vector) -> float:
    """Mean inside [degC] of the two hours that begin one hour after it was warm."""
    begin = warm_up(seconds, inside) + HOUR
    return float(inside[(seconds >= begin) & (seconds <= begin + 2.0 * HOUR)].mean()) - FREEZING


def graded() -> tuple[Check, ...]:
    """The rows of the standard's test."""
    test = heated()
    ours = {"soak": soak_hours(), "warm up": warm_up(*test) / HOUR, "hold": held(*test)}
    return tuple(printed(SUBJECT, row, ours[row["key"]]) for row in rows("heating_test"))


def closed(what: str, ours: float, theirs: float, miss: float, unit: str) -> Check:
    """The march of a tight shelter against the closed form."""
    return Check(
        subject=SUBJECT,
        what=what,
        source="closed form of the two-node shelter without leaks",
        ours=ours,
        theirs=theirs,
        unit=unit,
        tolerance=miss / theirs,
        why=f"the march's steps: {MARCHED} K",
        status="reference code",
    )


def warming(hours: int) -> Check:
    """The furnace burning all the time, from cold."""
    trip = burning(tight(starting_at(chamber(), outside())))
    furnace = trip.appliances[0]
    track = march(trip).track
    exact = two_nodes(trip, outside(), furnace.input * furnace.room_share, track.seconds)[0]
    at = hours * round(HOUR / MINUTE)
    return closed(
        f"inside above outside, {hours} h after its furnace was lit in the cold",
        float(track.room[at]) - outside(),
        float(exact[at]) - outside(),
        MARCHED,
        "K",
    )


def cooling() -> tuple[Check, ...]:
    """Nothing burning, from warm: the temperature after a while, and when it freezes inside."""
    trip = unheated(tight(starting_at(chamber(), INSIDE)))
    outcome = march(trip)
    seconds = outcome.track.seconds
    exact = two_nodes(trip, INSIDE, 0.0, seconds)[0]
    freezing = float(np.interp(-FREEZING, -exact, seconds))
    steepness = float(np.interp(freezing, seconds[1:], -np.diff(exact) / np.diff(seconds)))
    after = 10 * round(HOUR / MINUTE)
    ours = float(outcome.failures.seconds[CAUSES.index("freezing")])
    return (
        closed(
            "inside above outside, 10 h after its furnace went out",
            float(outcome.track.room[after]) - outside(),
            float(exact[after]) - outside(),
            MARCHED,
            "K",
        ),
        closed(
            "time from 20 to 0 degC inside, its furnace out",
            ours / HOUR,
            freezing / HOUR,
            MARCHED / steepness / HOUR,
            "h",
        ),
    )


def checks() -> tuple[Check, ...]:
    """The standard's test, and the closed form."""
    return (*graded(), warming(1), warming(4), *cooling())
