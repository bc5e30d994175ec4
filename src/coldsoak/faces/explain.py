"""``coldsoak explain``: every number a plan of this trip rests on, and where it comes from."""

from typing import TYPE_CHECKING, Any

import click

from coldsoak.faces import options
from coldsoak.faces.jsontext import json_text
from coldsoak.faces.tripfile import trip_file

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
