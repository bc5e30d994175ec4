"""Times of readings: read from people, put in order, counted from the start of the trip.

A time whose UTC offset nobody said is a time of the clock of the place. Where such a time meets one
whose offset is known, the place is taken to be at the first offset that the journal knows.
"""

import re
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta, timezone

from coldsoak.errors import InputError
from coldsoak.ledger.reading import Observation
from coldsoak.rig.units import shown

CLOCK = re.compile(r"\d{1,2}:\d{2}(:\d{2})?")
ALLOWED = (
    'write "2026-01-17T07:30", with its UTC offset "2026-01-17T07:30-07:00", '
    'or "07:30" for the last half past seven'
)


def read_moment(text: str, start: datetime, now: datetime) -> datetime:
    """The time of a reading.

    Parameters
    ----------
    text : ISO 8601 with or without UTC offset, or a time of day
    start : of the trip; a time without offset takes its offset, if it has one
    now : with offset; a time of day is the last one before it

    Raises InputError for what is no time, and for years before 1900 or after 2200.

    >>> now = datetime.fromisoformat("2026-01-17T06:00-07:00")
    >>> read_moment("07:30", datetime(2026, 1, 16, 16), now).isoformat()
    '2026-01-16T07:30:00'
    """
    text = text.strip()
    if CLOCK.fullmatch(text):
        return _last(text, start, now)
    try:
        time = datetime.fromisoformat(text)
    except ValueError:
        raise InputError(f"found {shown(text)}", ALLOWED) from None
    if not 1900 <= time.year <= 2200:
        raise InputError(f"found the year {time.year}", "it must be between 1900 and 2200")
    return settled(time, start)


def settled(time: datetime, start: datetime) -> datetime:
    """A time with the offset it has, or else the trip's own, if that has one."""
    if time.tzinfo is None:
        return time.replace(tzinfo=_fixed(start))
    return time.replace(tzinfo=_fixed(time))


def moment_of(now: datetime, start: datetime) -> datetime:
    """This moment, to the second, by the trip's own UTC offset if it has one."""
    offset = _fixed(start) or _fixed(now)
    return now.astimezone(offset).replace(microsecond=0)


def _last(clock: str, start: datetime, now: datetime) -> datetime:
    """The last moment at which a clock of the place showed a time of day."""
    here = moment_of(now, start).replace(tzinfo=None)
    try:
        hour, *rest = (int(part) for part in clock.split(":"))
        time = here.replace(hour=hour, minute=rest[0], second=rest[1] if rest[1:] else 0)
    except ValueError:
        raise InputError(f"found {shown(clock)}", ALLOWED) from None
    if time > here:
        time -= timedelta(days=1)
    return settled(time, start)


def _fixed(time: datetime) -> timezone | None:
    """The UTC offset of a time, without the rules of its zone; None if it has none."""
    offset = time.utcoffset()
    return None if offset is None else timezone(offset)


def place_offset(seen: Iterable[Observation], start: datetime | None = None) -> timedelta:
    """UTC offset at which times without one are taken: the start's, else the first that is known.

    Zero if none is known: then all times are of the same clock, and only differences count.
    """
    times = [] if start is None else [start]
    times += [each.time for each in seen]
    known = (offset for time in times if (offset := time.utcoffset()) is not None)
    return next(known, timedelta(0))


def instant(time: datetime, offset: timedelta) -> datetime:
    """A time in UTC; without an offset of its own it is taken at `offset`."""
    return (time if time.tzinfo else time.replace(tzinfo=timezone(offset))).astimezone(UTC)


def seconds_since(start: datetime, time: datetime, offset: timedelta) -> float:
    """Seconds from one time to another [s]; `offset` as :func:`place_offset` gives it.

    >>> evening, west = datetime(2026, 1, 16, 16), timedelta(hours=-7)
    >>> seconds_since(evening, datetime.fromisoformat("2026-01-17T07:30-07:00"), west)
    55800.0
    """
    return (instant(time, offset) - instant(start, offset)).total_seconds()


def offset_words(time: datetime) -> str:
    """What is known of the clock of a time, in words.

    >>> offset_words(datetime.fromisoformat("2026-01-17T07:30-07:00"))
    'UTC-07:00'
    """
    offset = time.utcoffset()
    if offset is None:
        return "clock of the place, UTC offset not known"
    return str(timezone(offset))


def utc_text(time: datetime) -> str:
    """A moment as the journal and its export write when something was entered.

    >>> utc_text(datetime.fromisoformat("2026-01-17T07:30-07:00"))
    '2026-01-17T14:30:00.000000+00:00'
    """
    return time.astimezone(UTC).isoformat(timespec="microseconds")
