"""Weather from typical meteorological years in TMY3 form."""

import csv
import re
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from coldsoak.errors import WeatherError
from coldsoak.rig.units import shown
from coldsoak.weather.frames import Field, parsed, read_station, values_of
from coldsoak.weather.gaps import Span
from coldsoak.weather.observed import Observed
from coldsoak.weather.typical import Year, hours_of, observe_year

if TYPE_CHECKING:
    from pandas import DataFrame

HEADER_LINES = 2
NEVER = float("inf")
FIELDS = {
    "air": Field("temp_air", 1.0, 273.15, -9900.0, NEVER),
    "dew point": Field("temp_dew", 1.0, 273.15, -9900.0, NEVER),
    "humidity": Field("relative_humidity", 0.01, 0.0, -9900.0, NEVER),
    "pressure": Field("pressure", 100.0, 0.0, -9900.0, NEVER),
    "global": Field("ghi", 1.0, 0.0, -9900.0, NEVER),
    "beam": Field("dni", 1.0, 0.0, -9900.0, NEVER),
    "diffuse": Field("dhi", 1.0, 0.0, -9900.0, NEVER),
    "wind": Field("wind_speed", 1.0, 0.0, -9900.0, NEVER),
    "cloud": Field("OpqCld (tenths)", 0.1, 0.0, -9900.0, NEVER),
}
"""Units, and the mark -9900 of missing values: Wilcox & Marion (2008), Users Manual for TMY3
Data Sets, NREL/TP-581-43156, tables 1-1 to 1-4."""

ROW_START = re.compile(r'"?(\d{2}/\d{2}/\d{4})"?,"?(\d{2}):(\d{2})"?,')
NEEDED = ("Date (MM/DD/YYYY)", "Time (HH:MM)", "Dry-bulb (C)")


def read_tmy3(content: bytes, file: str, span: Span) -> Observed:
    """The hours of a trip from the bytes of a TMY3 file.

    Rows are stamped with the end of their hour in local standard time; the sun's values are
    means over that hour, all else is taken at the stamp. Opaque sky cover counts as cloud.

    Raises WeatherError with the line for everything that cannot be read.
    """
    rows = content.decode("utf-8-sig", "replace").rstrip().splitlines()
    head = _cells(rows[0], file, 1)
    if len(head) != 7 or len(rows) <= HEADER_LINES:
        allowed = "number, name, state, time zone, latitude, longitude, elevation; then rows"
        raise WeatherError(shown(rows[0]), allowed, file=file, line=1)
    station = read_station([head[4], head[5], head[3], head[6]], file)
    lines = tuple(range(HEADER_LINES + 1, len(rows) + 1))
    _require_rows(rows, file)
    plain = ",".join(cell.replace(",", " ") for cell in head)
    from pvlib.iotools import read_tmy3 as parse

    frame = parsed(parse, "\n".join([plain, *rows[1:]]), file)
    year = Year(
        source=f"typical year {file}",
        file=file,
        hours=hours_of(_ends_of_hours(frame), file, lines),
        values=values_of(frame, FIELDS, file, lines),
        lines=lines,
        offset=timedelta(hours=station.hours),
        elevation=station.elevation,
    )
    return observe_year(year, span)


def _ends_of_hours(frame: "DataFrame") -> list[datetime]:
    """The stamps; pvlib makes midnight 0:00 of the next day, and 29 February 1 March."""
    return [stamp.to_pydatetime().replace(tzinfo=None) for stamp in frame.index]


def _require_rows(rows: list[str], file: str) -> None:
    """Raise WeatherError at the first line that lacks a column, a date or a field."""
    names = _cells(rows[1], file, 2)
    for name in NEEDED:
        if name not in names:
            raise WeatherError(f'no column "{name}"', "a TMY3 file has it", file=file, line=2)
    for line, row in enumerate(rows[HEADER_LINES:], start=HEADER_LINES + 1):
        start = ROW_START.match(row)
        if start is None or not _is_time(start[1], int(start[2]), int(start[3])):
            allowed = "date MM/DD/YYYY and time HH:MM, 01:00 to 24:00"
            raise WeatherError(shown(row), allowed, file=file, line=line)
        if len(_cells(row, file, line)) != len(names):
            found = f"{len(_cells(row, file, line))} fields"
            raise WeatherError(found, f"{len(names)} as in line 2", file=file, line=line)


def _cells(row: str, file: str, line: int) -> list[str]:
    """The fields of one line. Raises WeatherError if its quotation marks are not in pairs."""
    try:
        return next(csv.reader([row], strict=True), [])
    except csv.Error as error:
        allowed = "quotation marks in pairs"
        raise WeatherError(f"a broken row ({error})", allowed, file=file, line=line) from error


def _is_time(date: str, hour: int, minute: int) -> bool:
    """Whether a date exists and a time is a full hour of the day, 0 to 24."""
    try:
        year = datetime.strptime(date, "%m/%d/%Y").year
    except ValueError:
        return False
    return 1800 <= year <= 2200 and hour <= 24 and minute == 0
