"""Moments of the trip as people say them."""

from datetime import datetime, timedelta


def moment(when: datetime) -> str:
    """Weekday, day and time of day.

    >>> moment(datetime(2026, 1, 17, 3, 40))
    'Sat 17 Jan 03:40'
    """
    return f"{when:%a} {when.day} {when:%b %H:%M}"


def at(start: datetime, seconds: float) -> datetime:
    """Time of the trip's clock some seconds after its start."""
    return start + timedelta(seconds=float(seconds))


def duration(hours: float) -> str:
    """A span of time to the tenth of an hour.

    >>> duration(64.0), duration(11.66)
    ('64 h', '11.7 h')
    """
    return f"{round(hours, 1):g} h"
