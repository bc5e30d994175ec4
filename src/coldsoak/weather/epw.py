"""Weather from EnergyPlus weather files (EPW)."""

import re
from datetime import datetime, timedelta

from coldsoak.errors import WeatherError
from coldsoak.rig.units import shown
from coldsoak.weather.frames import Field, Station, parsed, read_station, values_of
from coldsoak.weather.gaps import Span
from coldsoak.weather.observed import Observed
from coldsoak.weather.typical import HOUR, Year, hours_of, observe_year

HEADER_LINES = 8
FIELDS_IN_ROW = range(24, 36)
"""A row reaches at least to the opaque sky cover; the format has 35 fields."""

NEVER = float("inf")
FIELDS = {
    "air": Field("temp_air", 1.0, 273.15, -NEVER, 99.9),
    "dew point": Field("temp_dew", 1.0, 273.15, -NEVER, 99.9),
    "humidity": Field("relative_humidity", 0.01, 0.0, -NEVER, 999.0),
    "pressure": Field("atmospheric_pressure", 1.0, 0.0, -NEVER, 999999.0),
    "infrared": Field("ghi_infrared", 1.0, 0.0, 0.0, 9999.0),
    "global": Field("ghi", 1.0, 0.0, -NEVER, 9999.0),
    "beam": Field("dni", 1.0, 0.0, -NEVER, 9999.0),
    "diffuse": Field("dhi", 1.0, 0.0, -NEVER, 9999.0),
    "wind": Field("wind_speed", 1.0, 0.0, -NEVER, 999.0),
    "cloud": Field("opaque_sky_cover", 0.1, 0.0, -NEVER, 99.0),
}
"""Units and marks of missing values: EnergyPlus documentation, Auxiliary Programs, chapter on
the weather file's data dictionary, fields N6 to N23. An infrared of 0 is missing too (no sky
is that cold)."""

ROW_START = re.compile(r"\s*(\d{4})\s*,\s*(\d{1,2})\s*,\s*(\d{1,2})\s*,\s*(\d{1,2})\s*,")


def read_epw(content: bytes, file: str, span: Span) -> Observed:
    """The hours of a trip from the bytes of an EPW file.

    Rows are the hours 1 to 24 of local standard time; sun and infrared are means over the
    hour, all else is taken at its end. Opaque sky cover counts as cloud where there is no
    infrared.

    Raises WeatherError with the line for everything that cannot be read.
    """
    text = content.decode("utf-8-sig", "replace").replace('"', "").rstrip()
    rows = text.splitlines()
    station = _station(rows, file)
    lines = tuple(range(HEADER_LINES + 1, len(rows) + 1))
    ends = [_end_of_hour(row, file, line) for row, line in zip(rows[8:], lines, strict=True)]
    from pvlib.iotools import read_epw as parse

    year = Year(
        source=f"EnergyPlus weather file {file}",
        file=file,
        hours=hours_of(_without_false_leap_day(ends), file, lines),
        values=values_of(parsed(parse, "\n".join(rows), file), FIELDS, file, lines),
        lines=lines,
        offset=timedelta(hours=station.hours),
        elevation=station.elevation,
    )
    return observe_year(year, span)


def _station(rows: list[str], file: str) -> Station:
    """What the first line says about the place. Raises WeatherError if the header is broken."""
    cells = rows[0].split(",")
    if not rows[0].startswith("LOCATION") or len(cells) < 10:
        allowed = 'an EPW file starts with "LOCATION" and nine fields'
        raise WeatherError(shown(rows[0]), allowed, file=file, line=1)
    if len(rows) <= HEADER_LINES:
        allowed = "eight lines of header and one row for every hour"
        raise WeatherError(f"{len(rows)} lines", allowed, file=file, line=len(rows))
    return read_station(cells[6:10], file)


def _end_of_hour(row: str, file: str, line: int) -> datetime:
    """The end of the hour that a row describes. Raises WeatherError if the row is broken."""
    start, fields = ROW_START.match(row), row.count(",") + 1
    if start is None or fields not in FIELDS_IN_ROW:
        allowed = "year, month, day, hour, minute and 19 to 30 more fields, apart by commas"
        raise WeatherError(
            f"a row with {fields} fields: {shown(row)}", allowed, file=file, line=line
        )
    year, month, day, hour = (int(number) for number in start.groups())
    try:
        if not (1 <= hour <= 24 and 1800 <= year <= 2200):
            raise ValueError
        return datetime(year, month, day) + hour * HOUR
    except ValueError as error:
        found = f"month {month}, day {day}, hour {hour} of {year}"
        raise WeatherError(found, "a date, and hours 1 to 24", file=file, line=line) from error


def _without_false_leap_day(ends: list[datetime]) -> list[datetime]:
    """Ends of hours in which midnight after 28 February opens March, if the file has no 29th.

    A typical February may come from a leap year, of which the file leaves the last day out.
    """
    leap = [end for end in ends if (end.month, end.day) == (2, 29)]
    if len(leap) != 1:
        return ends
    return [end + 24 * HOUR if end == leap[0] and end.hour == 0 else end for end in ends]
