"""From the words of a person to an observation that can be kept."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import datetime

from coldsoak.errors import InputError
from coldsoak.ledger.kinds import kind as kind_of
from coldsoak.ledger.kinds import read_temperature, read_value, read_words
from coldsoak.ledger.plausible import require_plausible
from coldsoak.ledger.reading import Observation, Reading
from coldsoak.ledger.subject import Names, subject
from coldsoak.rig.trip import Cylinder, Trip


def observe(
    trip: Trip,
    names: Names,
    kind: str,
    about: str,
    value: str,
    time: datetime,
    temperature: str = "",
    note: str = "",
) -> Observation:
    """One observation.

    Parameters
    ----------
    names : what can be named, as :func:`names_of` gives it
    kind, about : which kind of reading, and of which cylinder or appliance, as typed
    value, temperature : with units, as typed; temperature may be empty
    time : with its UTC offset if that is known

    Raises InputError, with one of the keys kind, about, reading, temperature and note, for
    anything unknown, out of range, or impossible for the cylinder.
    """
    with _named("kind"):
        of = kind_of(kind)
    with _named("about"):
        where = subject(of, about, names)
    with _named("reading"):
        measured = read_value(of, value)
        cylinder = cylinder_of(trip, where.cylinder)
        if cylinder is not None:
            require_plausible(of.name, measured.si, measured.written, cylinder, trip.fuel)
    with _named("temperature"):
        warmth = read_temperature(temperature)
    with _named("note"):
        remark = read_words(note)
    return Observation(
        time=time,
        kind=of.name,
        cylinder=where.cylinder,
        appliance=where.appliance,
        value=measured.si,
        written=measured.written,
        temperature=warmth.si,
        temperature_written=warmth.written,
        note=remark,
    )


@contextmanager
def _named(key: str) -> Iterator[None]:
    """Name what an error of the block is about."""
    try:
        yield
    except InputError as error:
        raise InputError(error.found, error.allowed, key=key) from None


def names_of(trip: Trip, journal: Iterable[Reading]) -> Names:
    """What a new reading can name: what the trip file has, and what the journal has had."""
    seen = tuple(journal)
    cylinders = [each.name for each in trip.cylinders]
    cylinders += [each.cylinder for each in seen if each.cylinder is not None]
    appliances = [each.name for each in trip.appliances]
    appliances += [each.appliance for each in seen if each.appliance is not None]
    return Names(tuple(dict.fromkeys(cylinders)), tuple(dict.fromkeys(appliances)))


def cylinder_of(trip: Trip, name: str | None) -> Cylinder | None:
    """The cylinder of a name, None if the trip file has none."""
    return next((each for each in trip.cylinders if each.name == name), None)
