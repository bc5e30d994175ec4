"""``coldsoak explain``: every number a plan of this trip rests on, and where it comes from."""

from typing import TYPE_CHECKING, Any

import click

from coldsoak.faces import options
from coldsoak.faces.jsontext import json_text
from coldsoak.faces.tripfile import read_weather_of, trip_file

if TYPE_CHECKING:
    from coldsoak.rig.trip import Trip
    from coldsoak.weather.table import WeatherTable


def explain_object(trip: "Trip", weather: "WeatherTable") -> dict[str, Any]:
    """Give the assumptions of a trip and the notes of its weather as one object."""
    return {
        "schema": "coldsoak.explain/1",
        "trip": trip.name,
        "assumptions": [
            {"key": entry.key, "value": entry.value, "source": entry.source}
            for entry in trip.assumptions
        ],
        "weather": {"source": weather.source, "notes": list(weather.notes)},
    }


def print_explained(trip: "Trip", weather: "WeatherTable") -> None:
    """Print the assumptions of a trip with their sources, then what its weather rests on."""
    from rich.table import Table

    from coldsoak.faces.paper import SLATE, paper

    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False, header_style=SLATE)
    for column in ("assumed", "value", "source"):
        table.add_column(column, overflow="fold")
    for entry in trip.assumptions:
        table.add_row(entry.key, entry.value, entry.source)
    console = paper()
    console.print(trip.name, style="bold")
    console.print(table if trip.assumptions else "Nothing is assumed: the trip file says it all.")
    console.print(f"\nWeather: {weather.source}")
    for note in weather.notes:
        console.print(f"- {note}")


@click.command("explain")
@options.trip
@options.as_json
@options.units
def command(trip: str, as_json: bool, units: str) -> None:
    """Every assumption and default of a trip, with its source.

    TRIP is a trip file or the folder that holds trip.toml. Values stand in the units of
    the catalogue or the file they come from.
    """
    file = trip_file(trip)
    from coldsoak.rig.read import read_trip

    the_trip = read_trip(file)
    weather = read_weather_of(the_trip)
    if as_json:
        click.echo(json_text(explain_object(the_trip, weather)))
    else:
        print_explained(the_trip, weather)
