"""Times of observations: from text to seconds since the trip's start."""

import re
from datetime import UTC, datetime, timedelta, timezone
from itertools import pairwise
from typing import NamedTuple
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np
from numpy.typing import NDArray

from coldsoak.errors import WeatherError
from coldsoak.rig.units import shown
from coldsoak.weather.place import offset_text

Array = NDArray[np.float64]

STAMP = re.compile(r"(?P<time>[^\[\]]*?)(?:\[(?P<zone>[^\[\]]*)\])?")
ALLOWED = 'write times as "2026-01-16T16:00" or "2026-01-16T16:00-07:00"'
GIVE_OFFSET = (
    "give every time its UTC offset (2026-01-16T16:00-07:00), "
    'or write the time zone in the header ("time [UTC]", "time [UTC-7]")'
)
HOUR = timedelta(hours=1)


class Stamp(NamedTuple):
    """One time of a file, with the line it stands on; aware only if its UTC offset is known."""

    line: int
    time: datetime


class Times(NamedTuple):
    """All times of a file [s since the trip's start], and what is known of its clock."""

    seconds: Array
    offset: timedelta | None
    notes: tuple[str, ...]


def find_zone(name: str, file: str, line: int) -> ZoneInfo | timezone:
    """The time zone of a name such as "America/Denver", "UTC" or "UTC-7".

    Raises WeatherError if nobody knows it.
    """
    fixed = re.fullmatch(r"(?:UTC|GMT)?\s*([+-])(\d{1,2})(?::?([0-5]\d))?", name.strip())
    if fixed is not None and int(fixed[2]) <= 15:
        ahead = timedelta(hours=int(fixed[2]), minutes=int(fixed[3] or 0))
        return timezone(-ahead if fixed[1] == "-" else ahead)
    try:
        return ZoneInfo(name.strip())
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise WeatherError(
            f"the unknown time zone {shown(name)}",
            'write "UTC", an offset such as "UTC-7", or a zone such as "America/Denver"',
            file=file,
            line=line,
            key="time",
        ) from error


def read_stamp(text: str, zone: ZoneInfo | timezone | None, file: str, line: int) -> Stamp:
    """One time of a file: ISO 8601, with or without UTC offset or bracketed zone (RFC 9557).

    Raises WeatherError if it is no time, or a local time that the clock skips or repeats.
    """
    match = STAMP.fullmatch(text.strip())
    try:
        time = datetime.fromisoformat(match["time"] if match else "")
    except ValueError as error:
        raise WeatherError(
            f"{shown(text)} is no time", ALLOWED, file=file, line=line, key="time"
        ) from error
    if match is not None and match["zone"]:
        zone = find_zone(match["zone"], file, line)
    if time.tzinfo is None and zone is not None:
        time = _localized(time, zone, file, line)
    if not 1900 <= time.year <= 2200:
        found = f"the year {time.year}"
        raise WeatherError(found, "years 1900 to 2200", file=file, line=line, key="time")
    return Stamp(line, time)


def _localized(time: datetime, zone: ZoneInfo | timezone, file: str, line: int) -> datetime:
    """A local time in its zone, refused where daylight-saving time skips or repeats it."""
    early, late = time.replace(tzinfo=zone, fold=0), time.replace(tzinfo=zone, fold=1)
    if early.utcoffset() == late.utcoffset():
        return early
    exists = early.astimezone(UTC).astimezone(zone).replace(tzinfo=None) == time
    what = "happens twice" if exists else "does not exist"
    raise WeatherError(
        f"{time.isoformat()} {what} in {zone} (change of daylight-saving time)",
        "give this time its UTC offset (2026-01-16T16:00-07:00)",
        file=file,
        line=line,
        key="time",
    )


def since_start(
    stamps: list[Stamp], start: datetime, zone: ZoneInfo | timezone | None, file: str
) -> Times:
    """Seconds from the trip's start to every time of a file.

    Parameters
    ----------
    stamps : at least one
    start : of the trip, naive in the clock of the place, or aware
    zone : that the file's header names

    Times without offset are read on the trip's own clock. With offsets in the file and a naive
    start, the start is in the zone the header names, else at the file's first offset.

    Raises WeatherError if only some times have an offset, if times do not increase, or if
    times without offset look like a change of daylight-saving time.
    """
    first = stamps[0].time
    for stamp in stamps:
        if (stamp.time.tzinfo is None) != (first.tzinfo is None):
            found = "a time with a UTC offset among times without, or the other way round"
            raise WeatherError(found, GIVE_OFFSET, file=file, line=stamp.line, key="time")
    _require_increase(stamps, file)
    if first.tzinfo is None:
        return _on_trip_clock(stamps, start, file)
    return _on_file_clock(stamps, start, zone, file)


def _on_trip_clock(stamps: list[Stamp], start: datetime, file: str) -> Times:
    """Times without UTC offset."""
    local = start.replace(tzinfo=None)
    seconds = np.array([(stamp.time - local).total_seconds() for stamp in stamps])
    offset = start.utcoffset()
    if offset is None:
        return Times(seconds, None, ())
    note = f"The file's times have no UTC offset: the trip's own, {offset_text(offset)}, is taken."
    return Times(seconds, offset, (note,))


def _on_file_clock(
    stamps: list[Stamp], start: datetime, zone: ZoneInfo | timezone | None, file: str
) -> Times:
    """Times with UTC offset."""
    notes: tuple[str, ...] = ()
    if start.tzinfo is None and zone is not None:
        start = _localized(start, zone, file, stamps[0].line)
    elif start.tzinfo is None:
        own = stamps[0].time.utcoffset() or timedelta(0)
        start = start.replace(tzinfo=timezone(own))
        notes = (
            "The trip's start has no UTC offset: the file's first offset, "
            f"{offset_text(own)}, is taken as the place's.",
        )
    seconds = np.array([(stamp.time - start.astimezone(UTC)).total_seconds() for stamp in stamps])
    return Times(seconds, start.utcoffset(), notes)


def _require_increase(stamps: list[Stamp], file: str) -> None:
    """Raise WeatherError at the first time that is not later than the one before it."""
    for before, after in pairwise(stamps):
        if after.time > before.time:
            continue
        same = after.time == before.time
        found = f"{after.time.isoformat()} {'twice' if same else 'after a later time'}"
        allowed = "times must increase"
        if after.time.tzinfo is None:
            allowed += f"; if daylight-saving time ended there, {GIVE_OFFSET}"
        raise WeatherError(found, allowed, file=file, line=after.line, key="time")


def refuse_skipped_hour(stamps: list[Stamp], seconds: Array, length: float, file: str) -> None:
    """Raise WeatherError where local times inside the trip skip the hour of a spring change.

    Without a UTC offset a missing hour may be a gap or the start of daylight-saving time, and
    a guess would shift everything after it. Clocks go forward in the small hours of a Sunday
    in March or April (September or October in the south).
    """
    steps = np.diff(seconds)
    if steps.size < 3:
        return
    usual = float(np.median(steps))
    inside = (seconds[1:] > 0.0) & (seconds[:-1] < length)
    for row in np.flatnonzero(inside & (np.abs(steps - usual - 3600.0) < 1.0)):
        time = stamps[row].time
        missing = time + timedelta(seconds=usual)
        if time.tzinfo is None and missing.month in (3, 4, 9, 10) and missing.weekday() == 6:
            if missing.hour > 3:
                continue
            raise WeatherError(
                f"no {missing.isoformat()}: a gap, or daylight-saving time began",
                GIVE_OFFSET,
                file=file,
                line=stamps[row + 1].line,
                key="time",
            )
