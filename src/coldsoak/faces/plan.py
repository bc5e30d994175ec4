"""``coldsoak plan``: from a trip file and its weather to the verdict, printed or as JSON."""

from typing import TYPE_CHECKING

import click
import numpy as np

from coldsoak.faces import options
from coldsoak.faces.jsontext import json_text
from coldsoak.faces.progress import waiting
from coldsoak.faces.series_file import series_path, write_series
from coldsoak.faces.tripfile import trip_file

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from coldsoak.choose.plan import Planned
    from coldsoak.rig.trip import Trip
    from coldsoak.weather.table import WeatherTable

FIRST_RUN = 30
"""Seconds that preparing the calculation took on a machine of two cores [s]."""


def waiting_words() -> str:
    """What to say to whoever waits: the first run on a machine prepares the calculation."""
    from coldsoak.physics.compiled import cache_folder

    if any(cache_folder().rglob("march.*.nbc")):
        return "planning"
    return f"preparing the calculation, once, about {FIRST_RUN} s"


def planned(path: str) -> tuple["Trip", "WeatherTable", "Planned"]:
    """Read a trip and its weather and plan it."""
    file = trip_file(path)
    with waiting(waiting_words()):
        from coldsoak.choose.plan import make_plan
        from coldsoak.rig.read import read_trip
        from coldsoak.weather.read import weather_of

        trip = read_trip(file)
        weather = weather_of(trip)
        return trip, weather, make_plan(trip, weather)


def sun_over(
    series_seconds: "NDArray[np.float64]", weather: "WeatherTable"
) -> "NDArray[np.float64] | None":
    """Elevation of the sun at the rows of a series [rad], None where the weather has no sun."""
    if not np.any(weather.sun_elevation):
        return None
    return np.interp(series_seconds, weather.seconds, weather.sun_elevation)


def print_planned(trip: "Trip", weather: "WeatherTable", result: "Planned", units: str) -> None:
    """Print a plan on one screen."""
    from coldsoak.faces.paper import paper, speaks_unicode
    from coldsoak.faces.screen import Sheet, print_plan

    sheet = Sheet(
        plan=result.plan,
        series=result.series,
        start=trip.start,
        elevation=trip.place.elevation,
        sun_elevation=sun_over(result.series.seconds, weather),
        units=units,
        unicode=speaks_unicode(),
    )
    print_plan(paper(), sheet)


@click.command("plan")
@options.trip
@options.as_json
@options.units
@click.option(
    "--series",
    type=click.Path(),
    metavar="FILE",
    help="Also write the time series to FILE, .parquet or .csv, in SI units.",
)
def command(trip: str, as_json: bool, units: str, series: str | None) -> None:
    """Will it hold: verdict, why, when to change cylinders, what will be left.

    TRIP is a trip file or the folder that holds trip.toml.
    """
    from coldsoak.choose.answer import plan_object

    path = None if series is None else series_path(series)
    the_trip, weather, result = planned(trip)
    if path is not None:
        names = tuple(cylinder.name for cylinder in the_trip.cylinders)
        write_series(path, result.series, names, the_trip.start)
    if as_json:
        click.echo(json_text(plan_object(result.plan)))
    else:
        print_planned(the_trip, weather, result, units)
