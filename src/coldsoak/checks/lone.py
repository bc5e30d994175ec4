"""One cylinder of propane alone in still, dry air: how long a rate lasts, and what rate can last.

The trip is ``data/lone_cylinder.toml``; it goes the way of every trip, from the file through the
march.
"""

from functools import cache
from importlib.resources import files
from math import isinf
from pathlib import Path
from string import Template
from typing import NamedTuple

from coldsoak.checks.fuels import PROPANE
from coldsoak.checks.units import ATMOSPHERE, FREEZING
from coldsoak.choose.lay_out import lay_out
from coldsoak.choose.run import run
from coldsoak.night.contents import settle_fully, unsettled
from coldsoak.night.cylinder import warmth
from coldsoak.night.records import Night
from coldsoak.physics.combustion import GROSS_HEATING_VALUE
from coldsoak.physics.film import Outside
from coldsoak.physics.fuel import COMPONENTS, bubble_temperature
from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import Trip
from coldsoak.weather.read import read_weather
from coldsoak.weather.table import WeatherTable

HEAT = float(GROSS_HEATING_VALUE[COMPONENTS.index("propane")])
"""Gross heat of propane [J/mol]."""

STEADILY = '"always"'
"""The burner's ``use`` when it burns all the time."""


class Lone(NamedTuple):
    """A cylinder of the catalogue with its contents [kg] in air of a temperature [K]."""

    size: str
    contents: float
    air: float


class Demand(NamedTuple):
    """A burner's gross input [W], its ``use`` in the trip file, for how long [h], and the least
    gauge pressure [Pa] that its regulator needs."""

    heat: float
    use: str
    hours: float
    minimum: float


@cache
def trip_of(lone: Lone, demand: Demand) -> tuple[Trip, WeatherTable]:
    """The trip and its weather."""
    text = (files("coldsoak.checks") / "data/lone_cylinder.toml").read_text("utf-8")
    trip = parse_trip(
        Template(text).substitute(
            size=lone.size,
            contents=lone.contents,
            air=lone.air - FREEZING,
            input=demand.heat,
            use=demand.use,
            hours=demand.hours,
            minimum=demand.minimum / 1e3,
        )
    )
    weather = read_weather(
        trip.weather, start=trip.start, length=trip.length, place=trip.place, folder=Path()
    )
    return trip, weather


def lasts(lone: Lone, demand: Demand) -> float:
    """Time [s] from a start at air temperature until the pressure is too low; infinite if never."""
    outcome = run(*trip_of(lone, demand)).outcome
    return float(outcome.failures.seconds.min())


def holds(lone: Lone, demand: Demand) -> bool:
    """Whether the cylinder feeds the burner all the time."""
    return isinf(lasts(lone, demand))


def steady_heat(lone: Lone, gauge: float, wind: float = 0.0) -> float:
    """Gross heat [W] of the vapor that heat through wetted and dry wall boils, liquid steady.

    Parameters
    ----------
    lone : Lone
    gauge : float
        Gauge pressure at which the liquid stands [Pa].
    wind : float
        At the wall [m/s].
    """
    night = standing(lone)
    cylinder = night.cylinders[0]
    liquid = float(bubble_temperature(ATMOSPHERE + gauge, PROPANE))
    contents = unsettled(cylinder.moles)
    settle_fully(liquid, cylinder.moles, cylinder.volume, contents)
    outside = Outside(lone.air, wind, 0.0, lone.air, 0.0, ATMOSPHERE)
    warm = warmth(liquid, 0.0, contents.liquid_volume, outside, cylinder)
    return float((warm.wall + warm.frost) / contents.draw_heat) * HEAT


def standing(lone: Lone) -> Night:
    """The cylinder laid out for the march, with no more than a pilot flame to feed."""
    return lay_out(*trip_of(lone, Demand(1.0, STEADILY, 1.0, 0.0)), ())
