"""Where and by which clock a trip happens, as far as weather needs it."""

from datetime import UTC, datetime, timedelta
from typing import NamedTuple, Protocol

J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
UNKNOWN_LATITUDE = 45.0
"""Where a place without latitude is taken to be [deg]: the middle of the temperate zone,
no source."""


class Place(Protocol):
    """What a place must say: elevation [m], latitude and longitude [deg], each may be None."""

    @property
    def elevation(self) -> float | None: ...
    @property
    def latitude(self) -> float | None: ...
    @property
    def longitude(self) -> float | None: ...


class Sky(NamedTuple):
    """What the sun's position needs to be computed for a trip.

    days : the trip's start since noon UT of 2000-01-01 [d]
    latitude, longitude : [deg]
    offset : of the trip's clock from UTC
    notes : what was assumed
    """

    days: float
    latitude: float
    longitude: float
    offset: timedelta
    notes: tuple[str, ...]


def sky_over(start: datetime, offset: timedelta | None, place: Place) -> Sky:
    """Resolve place and clock of a trip, assuming what is not known and saying so.

    Parameters
    ----------
    start : naive in the trip's own clock, or with an offset, which then counts
    offset : of the clock from UTC where the weather source knows it
    place : of the trip

    A clock whose offset nobody gave is taken as the zone time of the longitude, 15 degrees
    to the hour (the nautical rule); a longitude nobody gave, as that zone's meridian.
    """
    notes = []
    latitude = place.latitude
    if latitude is None:
        latitude = UNKNOWN_LATITUDE
        notes.append(f"The place has no latitude: {latitude:g} degrees north assumed for the sun.")
    offset = start.utcoffset() if start.utcoffset() is not None else offset
    if offset is None:
        offset = timedelta(hours=round((place.longitude or 0.0) / 15.0))
        notes.append(
            f"The clock has no UTC offset: {offset_text(offset)} assumed from the longitude."
        )
    longitude = place.longitude
    if longitude is None:
        longitude = offset.total_seconds() / 240.0
        notes.append(
            "The place has no longitude: the clock's own meridian "
            f"({longitude:g} degrees east) assumed for the sun."
        )
    moment = start.replace(tzinfo=None) - offset - J2000.replace(tzinfo=None)
    return Sky(moment.total_seconds() / 86400.0, latitude, longitude, offset, tuple(notes))


def offset_text(offset: timedelta) -> str:
    """An offset from UTC as people write it.

    >>> offset_text(timedelta(hours=-7)), offset_text(timedelta(hours=5, minutes=30))
    ('UTC-07:00', 'UTC+05:30')
    """
    minutes = round(offset.total_seconds() / 60.0)
    return f"UTC{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"
