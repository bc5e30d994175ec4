"""The trip file that a command line names."""

from pathlib import Path

from coldsoak.errors import TripError

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
