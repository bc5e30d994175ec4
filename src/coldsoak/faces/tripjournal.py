"""The trip and the journal that a command line names, opened together."""

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from coldsoak.errors import TripError
from coldsoak.faces.tripfile import TRIP_FILE, trip_file

if TYPE_CHECKING:
    from coldsoak.ledger.reading import Reading
    from coldsoak.ledger.subject import Names
    from coldsoak.rig.trip import Trip


class TripJournal(NamedTuple):
    """A trip and every reading of its journal, in the order of entering.

    `warnings` say what is odd about the two together.
    """

    trip: "Trip"
    path: Path
    history: tuple["Reading", ...]
    warnings: tuple[str, ...]

    @property
    def names(self) -> "Names":
        """What a new reading can name."""
        from coldsoak.ledger.observe import names_of

        return names_of(self.trip, self.history)


def open_journal(trip: str) -> TripJournal:
    """Read a trip and its journal; a journal that is not there yet has no readings.

    Raises
    ------
    TripError
        There is no such trip, or its file cannot be used.
    JournalError
        The journal cannot be used.
    """
    file = named_trip_file(trip)
    from coldsoak.ledger.journal import history, owner
    from coldsoak.ledger.store import journal_path
    from coldsoak.rig.read import read_trip

    the_trip, path = read_trip(file), journal_path(file)
    return TripJournal(the_trip, path, history(path), _warnings(path, the_trip, owner(path)))


def named_trip_file(trip: str) -> Path:
    """The trip file that a command line names.

    Raises
    ------
    TripError
        There is none; the message names the nearest one beside where it should be.
    """
    try:
        return trip_file(trip)
    except TripError as error:
        from coldsoak.rig.catalogue import nearest

        wanted = Path(trip)
        beside = _trips_in(wanted.parent)
        close = nearest(wanted.stem, list(beside))
        if close is None:
            raise
        raise TripError(error.found, f"did you mean {beside[close]}? {error.allowed}") from None


def _trips_in(folder: Path) -> dict[str, Path]:
    """The trips in a folder by name: folders that hold a trip file, and other TOML files."""
    try:
        entries = sorted(folder.iterdir())
    except OSError:
        return {}
    return {
        entry.stem: entry
        for entry in entries
        if (entry / TRIP_FILE).is_file() or (entry.suffix == ".toml" and entry.is_file())
    }


def _warnings(path: Path, trip: "Trip", owner: str | None) -> tuple[str, ...]:
    """That the journal was begun for a trip of another name."""
    if owner in (None, trip.name):
        return ()
    return (
        f"{path.name} was begun for the trip {owner!r}, and the trip file says {trip.name!r}: move "
        "it away if it is another trip's; if only the name has changed, say so with "
        "coldsoak journal TRIP --adopt",
    )
