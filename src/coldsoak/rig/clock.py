"""Times of day: "22:00", and the daily windows made of two of them."""

import re
from datetime import time

from coldsoak.rig.quantity import fault, kind_of

CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2}))?")
DAY = 86400.0
ALLOWED = 'write a time of day as "22:00" (24-hour clock)'
ALLOWED_WINDOW = 'write two times of day as "22:00 .. 07:00"'


def seconds_of_day(value: object) -> float:
    """Seconds since midnight of "HH:MM", "HH:MM:SS" or a TOML time; "24:00" is the end of the day.

    Raises PydanticCustomError for anything else.

    >>> seconds_of_day("07:25")
    26700.0
    """
    if isinstance(value, time):
        return value.hour * 3600.0 + value.minute * 60.0 + value.second
    match = CLOCK.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None:
        raise fault(f"found {kind_of(value)}", ALLOWED)
    hours, minutes, seconds = (int(part or 0) for part in match.groups())
    total = hours * 3600.0 + minutes * 60.0 + seconds
    if minutes > 59 or seconds > 59 or total > DAY:
        raise fault(f"found {kind_of(value)}", ALLOWED)
    return total


def daily_window(value: object) -> tuple[float, float]:
    """The window "22:00 .. 07:00" as seconds of day; ending before it starts, it crosses midnight.

    >>> daily_window("22:00 .. 07:00")
    (79200.0, 25200.0)
    """
    parts = value.split("..") if isinstance(value, str) else []
    if len(parts) != 2:
        raise fault(f"found {kind_of(value)}", ALLOWED_WINDOW)
    return checked_window(seconds_of_day(parts[0]), seconds_of_day(parts[1]))


def checked_window(start: float, end: float) -> tuple[float, float]:
    """The same window, refused if it is empty."""
    if start % DAY == end % DAY and not (start == 0.0 and end == DAY):
        raise fault("found a window that ends when it starts", 'for the whole day say "always"')
    return start, end
