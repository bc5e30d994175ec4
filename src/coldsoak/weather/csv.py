"""Weather from a CSV file whose header names columns and units."""

import csv
import io
from collections.abc import Iterator
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from coldsoak.errors import WeatherError
from coldsoak.rig.units import NUMBER, STANDARD_SPELLING, shown
from coldsoak.weather.columns import Column, read_columns
from coldsoak.weather.observed import Observed
from coldsoak.weather.timestamps import (
    find_zone,
    read_stamp,
    refuse_skipped_hour,
    since_start,
)

Array = NDArray[np.float64]


def read_csv(text: str, file: str, start: datetime, length: float) -> Observed:
    """The observations in the text of a CSV file.

    The first line that is neither empty nor starts with # is the header, such as
    "time, air [degC], wind [m/s], humidity [%], cloud [%], global [W/m2], pressure [hPa]".
    time and air are needed; columns and units are those of columns.py. A cell may be empty
    where a value is missing. Irradiance is that at the time of its row.

    Parameters
    ----------
    text : of the file; file : its name, for messages
    start, length : of the trip, length in s

    Raises WeatherError with line and column for everything that cannot be read.
    """
    rows = list(_rows(text, file))
    if not rows:
        raise WeatherError("an empty file", 'a header such as "time, air [degC]"', file=file)
    head_line, head = rows[0]
    _require_commas(head, file, head_line)
    time_at, zone_name, columns = read_columns(head, file, head_line)
    zone = find_zone(zone_name, file, head_line) if zone_name else None
    for line, cells in rows[1:]:
        _require_width(cells, head, file, line)
    if len(rows) == 1:
        raise WeatherError("a header and no rows", "one row for every time", file=file)
    stamps = [read_stamp(cells[time_at], zone, file, line) for line, cells in rows[1:]]
    times = since_start(stamps, start, zone, file)
    refuse_skipped_hour(stamps, times.seconds, length, file)
    values = {column.name: _values(rows[1:], column, file) for column in columns}
    return Observed(
        source=f"weather file {file}",
        file=file,
        lines=tuple(stamp.line for stamp in stamps),
        seconds=times.seconds,
        offset=times.offset,
        notes=times.notes,
        air=values.pop("air"),
        values=values,
    )


def _rows(text: str, file: str) -> Iterator[tuple[int, list[str]]]:
    """Every row of cells with its line; empty rows and comments left out."""
    reader = csv.reader(io.StringIO(text, newline=""), skipinitialspace=True, strict=True)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#"):
                yield reader.line_num, cells
    except csv.Error as error:
        allowed = "cells apart by commas, quotation marks in pairs"
        raise WeatherError(
            f"a broken row ({error})", allowed, file=file, line=reader.line_num
        ) from error


def _require_commas(head: list[str], file: str, line: int) -> None:
    """Raise WeatherError if the header is set apart by semicolons or tabs."""
    for mark, name in ((";", "semicolons"), ("\t", "tabs")):
        if any(mark in cell for cell in head):
            allowed = "cells apart by commas, and numbers with a decimal point"
            raise WeatherError(f"{name} between the cells", allowed, file=file, line=line)


def _require_width(cells: list[str], head: list[str], file: str, line: int) -> None:
    """Raise WeatherError unless a row has as many cells as the header."""
    if len(cells) == len(head):
        return
    allowed = f"{len(head)} as in the header"
    if len(cells) > len(head):
        allowed += "; numbers take a decimal point, not a comma"
    found = f"{len(cells)} cell{'s' * (len(cells) > 1)}"
    raise WeatherError(found, allowed, file=file, line=line)


def _values(rows: list[tuple[int, list[str]]], column: Column, file: str) -> Array:
    """All values of one column in SI, NaN for an empty cell."""
    return np.array([_value(cells[column.at], column, file, line) for line, cells in rows])


def _value(cell: str, column: Column, file: str, line: int) -> float:
    """One value in SI. Raises WeatherError if it is no number or beyond belief."""
    plain = cell.strip().translate(STANDARD_SPELLING)
    if not plain:
        return np.nan
    if not NUMBER.fullmatch(plain):
        found = f"{shown(cell.strip())} is no number"
        allowed = "a number with a decimal point, or an empty cell where the value is missing"
        raise WeatherError(found, allowed, file=file, line=line, key=column.heading)
    quantity = column.quantity
    value = float(plain) * column.scale.factor + column.scale.offset
    if not quantity.low - 1e-9 <= value <= quantity.high + 1e-9:
        found, allowed = shown(plain), f"allowed is {quantity.range}"
        raise WeatherError(found, allowed, file=file, line=line, key=column.heading)
    return max(value, 0.0)
