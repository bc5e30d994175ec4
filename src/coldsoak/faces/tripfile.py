"""The trip file that a command line names, and the weather that the trip names."""

from pathlib import Path
from typing import TYPE_CHECKING

from coldsoak.errors import TripError

if TYPE_CHECKING:
    from coldsoak.rig.trip import Trip
    from coldsoak.weather.table import WeatherTable

TRIP_FILE = "trip.toml"


def trip_file(trip: str) -> Path:
    """Give the path of the trip file named by a command line.

    Parameters
    ----------
    trip : str
        The file itself or the folder that holds ``trip.toml``.

    Raises
    ------
    TripError
        There is no such file.
    """
    path = Path(trip)
    if path.is_dir():
        path = path / TRIP_FILE
    if not path.is_file():
        raise TripError(
            f"there is no trip file at {path}",
            f"give a trip file or a folder that holds {TRIP_FILE}; `coldsoak start DIR` makes one",
        )
    return path


def read_weather_of(trip: "Trip") -> "WeatherTable":
    """Read the weather that a trip names, from the trip's start to its end."""
    from coldsoak.weather.read import read_weather

    folder = Path() if trip.path is None else trip.path.parent
    return read_weather(
        trip.weather, start=trip.start, length=trip.length, place=trip.place, folder=folder
    )
