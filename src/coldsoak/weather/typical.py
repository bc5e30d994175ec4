"""Looking a trip up in a year of hourly weather, typical or measured."""

from collections.abc import Mapping
from datetime import datetime, timedelta, timezone
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from coldsoak.errors import WeatherError
from coldsoak.weather.gaps import Span
from coldsoak.weather.observed import Observed

Array = NDArray[np.float64]
Hour = tuple[int, int, int]

MEANS = ("global", "beam", "diffuse", "infrared")
HOUR = timedelta(hours=1)


class Year(NamedTuple):
    """A file of hourly weather.

    source : in words; file : its name, for messages
    hours : month, day and hour of the end of every row's hour -> its row
    values : of every row, in SI and named as in Observed ("air" among them), NaN where missing;
        irradiances are means over the hour, all others readings at its end
    lines : of every row in the file
    offset : of the file's standard time from UTC
    elevation : of the weather station [m]
    """

    source: str
    file: str
    hours: Mapping[Hour, int]
    values: Mapping[str, Array]
    lines: tuple[int, ...]
    offset: timedelta
    elevation: float


def hours_of(ends: list[datetime], file: str, lines: tuple[int, ...]) -> dict[Hour, int]:
    """The row of every month, day and hour.

    Raises WeatherError if an hour has two rows: the file then holds more than one year, or
    shorter steps.
    """
    rows: dict[Hour, int] = {}
    for row, end in enumerate(ends):
        key = (end.month, end.day, end.hour)
        if key in rows:
            raise WeatherError(
                f"a second row for {end:%d %B, %H} h",
                "one year of hourly rows",
                file=file,
                line=lines[row],
            )
        rows[key] = row
    return rows


def observe_year(year: Year, span: Span) -> Observed:
    """The hours of a trip out of a year.

    The trip's month, day and hour are looked up, whichever years the rows come from; the new
    year is wrapped over. The trip's start counts in the file's local standard time, without
    daylight saving, unless it has a UTC offset. A year without 29 February gives the 28th
    twice. Irradiance at a full hour is the mean of the hours before and after it, which keeps
    the day's sum.
    """
    local = span.start
    if local.tzinfo is not None:
        local = local.astimezone(timezone(year.offset)).replace(tzinfo=None)
    first = local.replace(minute=0, second=0, microsecond=0)
    count = int(np.ceil(((local - first).total_seconds() + span.length) / 3600.0))
    times = [first + number * HOUR for number in range(count + 2)]
    rows = np.array([_row(year, time) for time in times])
    values = {name: _taken(column, rows) for name, column in year.values.items()}
    for name in MEANS:
        if name in values:
            values[name] = _at_full_hours(values[name])
    air = values.pop("air")[:-1]
    return Observed(
        source=year.source,
        file=year.file,
        lines=tuple(year.lines[row] if row >= 0 else 0 for row in rows[:-1]),
        seconds=np.array([(time - local).total_seconds() for time in times[:-1]]),
        air=air,
        values={name: column[: air.size] for name, column in values.items()},
        elevation=year.elevation,
        offset=year.offset,
        notes=_leap_note(year, times[:-1]),
    )


def _row(year: Year, time: datetime) -> int:
    """The row of one hour, that of the 28th for a 29 February the file lacks, or -1."""
    row = year.hours.get((time.month, time.day, time.hour), -1)
    if row < 0 and (time.month, time.day) == (2, 29):
        return year.hours.get((2, 28, time.hour), -1)
    return row


def _taken(column: Array, rows: NDArray[np.int_]) -> Array:
    """The values of some rows, NaN for row -1."""
    return np.where(rows >= 0, column[rows], np.nan)


def _at_full_hours(means: Array) -> Array:
    """Irradiance at the end of every hour but the last: the mean of this hour and the next."""
    before, after = means[:-1], means[1:]
    only = np.where(np.isfinite(before), before, after)
    return np.where(np.isfinite(before) & np.isfinite(after), 0.5 * (before + after), only)


def _leap_note(year: Year, times: list[datetime]) -> tuple[str, ...]:
    """Say that 28 February is used twice, if so."""
    leaps = [time for time in times if (time.month, time.day) == (2, 29)]
    if not leaps or (2, 29, leaps[0].hour) in year.hours:
        return ()
    return ("The weather file has no 29 February: the hours of the 28th are used again.",)
