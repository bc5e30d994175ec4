"""``coldsoak explain``: every number a plan of this trip rests on, and where it comes from."""

from collections.abc import Iterable
from itertools import groupby
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from coldsoak.faces import options, shown
from coldsoak.faces.jsontext import json_text
from coldsoak.faces.progress import waiting
from coldsoak.faces.tripfile import trip_file

if TYPE_CHECKING:
    from coldsoak.rig.trip import Assumption, Trip
    from coldsoak.weather.table import WeatherTable


def value_of(entry: "Assumption", units: str) -> str:
    """The value of an assumption in the units that are shown."""
    return shown.restated(entry.value, units, difference=entry.key.endswith("differential"))


def all_assumed(trip: "Trip") -> tuple["Assumption", ...]:
    """What a trip's file leaves open, and what every plan takes for granted."""
    from coldsoak.choose.assumed import ASSUMED

    return (*trip.assumptions, *ASSUMED)


def explain_object(trip: "Trip", weather: "WeatherTable", units: str) -> dict[str, Any]:
    """Give the assumptions of a trip and the notes of its weather as one object."""
    return {
        "schema": "coldsoak.explain/1",
        "trip": trip.name,
        "assumptions": [
            {"key": entry.key, "value": value_of(entry, units), "source": entry.source}
            for entry in all_assumed(trip)
        ],
        "notes": list(trip.notes),
        "weather": {"source": weather.source, "notes": list(weather.notes)},
    }


class Assumed(NamedTuple):
    """One assumption as it is printed, for all the things it is the same for."""

    heading: str
    item: str
    value: str
    source: str


def gathered(assumptions: Iterable["Assumption"], units: str) -> list[Assumed]:
    """Say once what is assumed of several cylinders or appliances alike.

    A key such as ``cylinder.A.tare`` has a kind, a name and an item; the name may hold dots.
    """
    names: dict[tuple[str, str, str, str], list[str]] = {}
    for entry in assumptions:
        kind, _, rest = entry.key.partition(".")
        name, _, item = rest.rpartition(".")
        names.setdefault((kind, item, value_of(entry, units), entry.source), []).append(name)
    gathered = [
        Assumed(f"{kind} {', '.join(those)}".strip(), item, value, source)
        for (kind, item, value, source), those in names.items()
    ]
    headings = list(dict.fromkeys(entry.heading for entry in gathered))
    return sorted(gathered, key=lambda entry: headings.index(entry.heading))


def print_explained(trip: "Trip", weather: "WeatherTable", units: str) -> None:
    """Print the assumptions of a trip with their sources, then what its weather rests on."""
    from rich.table import Table

    from coldsoak.faces.paper import SLATE, paper

    console = paper()
    console.print(trip.name, style="bold")
    for heading, entries in groupby(gathered(all_assumed(trip), units), lambda one: one.heading):
        table = Table.grid(padding=(0, 2, 0, 0))
        for width in (18, 18, 40):
            table.add_column(width=width, overflow="fold")
        for entry in entries:
            table.add_row(entry.item, entry.value, entry.source)
        console.print(f"\n{heading}", style=SLATE)
        console.print(table)
    console.print(f"\nweather: {weather.source}", style=SLATE)
    for note in (*weather.notes, *trip.notes):
        console.print(f"- {note}")


@click.command("explain")
@options.trip
@options.as_json
@options.units
def command(trip: str, as_json: bool, units: str) -> None:
    """Every assumption and default of a trip, with its source.

    TRIP is a trip file or the folder that holds trip.toml.
    """
    file = trip_file(trip)
    with waiting("reading the trip"):
        from coldsoak.rig.read import read_trip
        from coldsoak.weather.read import weather_of

        the_trip = read_trip(file)
        weather = weather_of(the_trip)
    if as_json:
        click.echo(json_text(explain_object(the_trip, weather, units)))
    else:
        print_explained(the_trip, weather, units)
