"""From a trip and a run of it to what the air inside is exposed to."""

from collections.abc import Iterable
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from coldsoak.choose.burning import Burning, burning
from coldsoak.choose.lay_out import DAY, Array, window_spans
from coldsoak.choose.run import Run
from coldsoak.night.air import Limits, Timeline, exchanges
from coldsoak.physics.combustion import MOLAR_MASS_WATER
from coldsoak.physics.opening import Vents, vents_of
from coldsoak.physics.roomair import (
    GAS_CONSTANT,
    ColdSurface,
    Enclosure,
    Made,
    made_by_flame,
    made_by_people,
)
from coldsoak.rig.trip import Appliance, ColdFace, People, Shelter, Trip
from coldsoak.weather.table import WeatherTable

OUTDOOR_KINDS = ("grill", "fire pit", "generator")
"""Kinds that burn outside."""

BREATH_TEMPERATURE, BREATH_PRESSURE = 298.15, 101_325.0
"""At which the volumes of breath are given [K], [Pa]."""


class Sources(NamedTuple):
    """Who makes what in each stretch of a timeline, float64[n, 3] of `Made` [mol/s]."""

    people: Array
    cooking: Array
    flames: Array


class AirNight(NamedTuple):
    """A run of a trip laid out for its air."""

    line: Timeline
    sources: Sources
    room: Enclosure
    limits: Limits


def burns_inside(appliance: Appliance) -> bool:
    """Whether its products stay in the room: no flue, and no kind that burns outside."""
    return not appliance.vented and appliance.kind not in OUTDOOR_KINDS


def calm(weather: WeatherTable) -> WeatherTable:
    """The same weather without wind."""
    return replace(weather, wind=np.zeros_like(weather.wind))


def vents(shelter: Shelter) -> Vents:
    """What the listed openings let through."""
    areas = np.array([opening.area for opening in shelter.openings])
    return vents_of(areas, np.array([opening.height for opening in shelter.openings]))


def enclosure(shelter: Shelter) -> Enclosure:
    """Volume and cold surfaces; without windows a pane of no area."""
    pane = shelter.window or ColdFace(0.0, 1.0, 1.0)
    return Enclosure(shelter.volume, cold_surface(pane), cold_surface(shelter.wall))


def cold_surface(face: ColdFace) -> ColdSurface:
    """The record of the physics."""
    return ColdSurface(face.area, face.inside_resistance, face.outside_resistance)


def asleep_spans(trip: Trip) -> list[tuple[float, float]]:
    """When the people sleep [s]; never where there are none."""
    return [] if trip.people is None else window_spans(trip, *trip.people.asleep)


def inside_spans(spans: Iterable[tuple[float, float]], seconds: Array) -> Array:
    """1 at those times that lie in a span, else 0."""
    share = np.zeros_like(seconds)
    for begin, end in spans:
        share[(begin <= seconds) & (seconds < end)] = 1.0
    return share


def instants(trip: Trip, weather: WeatherTable, done: Run, burns: list[Burning]) -> Array:
    """Times at which something turns, from the start to the end [s]."""
    turns = [end for span in asleep_spans(trip) for end in span]
    parts = [done.outcome.track.seconds, weather.seconds, *(each.seconds for each in burns)]
    every = np.unique(np.concatenate([*parts, [0.0, trip.length], turns]))
    return every[(every >= 0.0) & (every <= trip.length)]


def breath(volume: float) -> float:
    """Moles of a volume flow of breath [mol/s of m3/s]."""
    return volume * BREATH_PRESSURE / (GAS_CONSTANT * BREATH_TEMPERATURE)


def by_people(people: People | None, asleep: Array) -> Array:
    """What the people make, all of them inside all the time."""
    if people is None:
        return np.zeros((asleep.size, 3))
    awake = np.array(made_by_people(breath(people.co2_awake), people.water_awake))
    sleeping = np.array(made_by_people(breath(people.co2_asleep), people.water_asleep))
    return people.count * np.where(asleep[:, None] > 0.0, sleeping, awake)


def by_cooking(trip: Trip, lit: Array, awake: Array, lasting: Array) -> Array:
    """Water of cooking: while a stove burns, and if none does, while people are awake."""
    made = np.zeros((lasting.size, 3))
    if trip.people is None:
        return made
    water = trip.people.count * trip.people.cooking_water * trip.length / DAY
    weight = lit if (lit * lasting).sum() > 0.0 else awake
    if (weight * lasting).sum() > 0.0:
        made[:, 2] = water / MOLAR_MASS_WATER * weight / (weight * lasting).sum()
    return made


def by_flames(trip: Trip, heats: Array) -> Array:
    """What flames without a flue make of their gross heat in each stretch [W]."""
    per_watt: Made = made_by_flame(1.0, np.array(trip.fuel.worst) / sum(trip.fuel.worst))
    return np.outer(heats, np.array(per_watt))


def sources(trip: Trip, done: Run, burns: list[Burning], seconds: Array) -> Sources:
    """Who makes what between some instants [s]."""
    middles, lasting = 0.5 * (seconds[1:] + seconds[:-1]), np.diff(seconds)
    asleep = inside_spans(asleep_spans(trip), middles)
    lit, heats = np.zeros_like(middles), np.zeros_like(middles)
    for b, appliance in enumerate(trip.appliances):
        share = burns[b].at(middles)
        if appliance.kind == "stove":
            lit += share
        if burns_inside(appliance):
            heats += share * float(done.night.burners.heat[b])
    return Sources(
        by_people(trip.people, asleep),
        by_cooking(trip, lit, 1.0 - asleep, lasting),
        by_flames(trip, heats),
    )


def air_coming_in(
    shelter: Shelter, wind_factor: float, weather: WeatherTable, seconds: Array, inside: Array
) -> Array:
    """Outside air that comes in at some instants [m3/s]."""
    through = vents(shelter)
    outside = np.interp(seconds, weather.seconds, weather.air)
    wind = wind_factor * np.interp(seconds, weather.seconds, weather.wind)
    flow = np.empty_like(seconds)
    exchanges(shelter.gap_area, through.stack, through.wind, inside, outside, wind, flow)
    return flow


def lay_air(trip: Trip, shelter: Shelter, weather: WeatherTable, done: Run) -> AirNight:
    """Lay out the air of a run that recorded its track.

    Parameters
    ----------
    trip : Trip
    shelter : Shelter
        Of the trip, which must have one.
    weather : WeatherTable
        Outside; the run's, or the same without wind.
    done : Run
        Temperature inside and flames.
    """
    burns = [burning(done, b) for b in range(len(trip.appliances))]
    seconds = instants(trip, weather, done, burns)
    inside = np.interp(seconds, done.outcome.track.seconds, done.outcome.track.room)
    made = sources(trip, done, burns, seconds)
    wind_factor = float(done.night.cabin.wind_factor[0])
    line = Timeline(
        seconds=seconds,
        inside=inside,
        outside=np.interp(seconds, weather.seconds, weather.air),
        vapor_pressure=np.interp(seconds, weather.seconds, weather.vapor_pressure),
        exchange=air_coming_in(shelter, wind_factor, weather, seconds, inside),
        made=made.people + made.cooking + made.flames,
        pressure=float(done.night.supply.station_pressure[0]),
    )
    return AirNight(line, made, enclosure(shelter), Limits(trip.air.co2, trip.air.oxygen))
