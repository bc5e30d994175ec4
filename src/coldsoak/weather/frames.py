"""Numbers out of the data frames that pvlib's readers give."""

import io
import warnings
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from coldsoak.errors import WeatherError
from coldsoak.rig.units import shown
from coldsoak.weather.columns import QUANTITIES

if TYPE_CHECKING:
    from pandas import DataFrame

Array = NDArray[np.float64]


class Field(NamedTuple):
    """One field of a format.

    column : pvlib's name for it
    factor, offset : SI value = factor x number + offset
    low, high : numbers from which on, downward or upward, a value counts as missing
    """

    column: str
    factor: float
    offset: float
    low: float
    high: float


def values_of(
    frame: "DataFrame", fields: Mapping[str, Field], file: str, lines: tuple[int, ...]
) -> dict[str, Array]:
    """Every field that the frame has, in SI, under our names, NaN where missing.

    Raises WeatherError with the line for a cell that is no number or beyond belief.
    """
    values = {}
    for name, field in fields.items():
        if field.column in frame:
            raw = _numbers(frame, field.column, file, lines)
            raw[(raw <= field.low) | (raw >= field.high)] = np.nan
            values[name] = _believable(name, raw, field, file, lines)
    return values


def _believable(name: str, raw: Array, field: Field, file: str, lines: tuple[int, ...]) -> Array:
    """Numbers in SI. Raises WeatherError at the first that is beyond belief."""
    quantity, known = QUANTITIES[name], raw * field.factor + field.offset
    wrong = np.flatnonzero((known < quantity.low - 1e-9) | (known > quantity.high + 1e-9))
    if wrong.size:
        found, allowed = f"{raw[wrong[0]]:g}", f"allowed is {quantity.range}"
        raise WeatherError(found, allowed, file=file, line=lines[int(wrong[0])], key=field.column)
    return np.maximum(known, 0.0)


def _numbers(frame: "DataFrame", column: str, file: str, lines: tuple[int, ...]) -> Array:
    """One column as numbers, NaN for an empty cell."""
    import pandas as pd

    raw = pd.to_numeric(frame[column], errors="coerce").to_numpy(dtype=np.float64)
    wrong = np.flatnonzero(np.isnan(raw) & frame[column].notna().to_numpy() | np.isinf(raw))
    if wrong.size:
        row = int(wrong[0])
        raise WeatherError(
            f"{shown(frame[column].iloc[row])} is no number",
            "a number",
            file=file,
            line=lines[row],
            key=column,
        )
    return np.array(raw)


def parsed(
    parse: Callable[[io.StringIO], tuple["DataFrame", object]], text: str, file: str
) -> "DataFrame":
    """The data frame that one of pvlib's readers makes of a text.

    Its warnings about odd cells are dropped: `values_of` turns such cells into errors.

    Raises WeatherError for what the reader refuses.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return parse(io.StringIO(text))[0]
    except (ValueError, KeyError, IndexError, TypeError, AttributeError, OverflowError) as error:
        reason = shown(str(error))
        raise WeatherError(f"a broken file ({reason})", "an unbroken one", file=file) from error


class Station(NamedTuple):
    """What a file says about its place: hours from UTC, and elevation [m]."""

    hours: float
    elevation: float


def read_station(cells: list[str], file: str) -> Station:
    """Station from the cells for latitude, longitude, time zone and elevation, in that order.

    Raises WeatherError for the first that is no number or beyond belief.
    """
    names = ("latitude", "longitude", "time zone", "elevation")
    ranges = ((-90.0, 90.0), (-180.0, 180.0), (-12.0, 14.0), (-500.0, 9000.0))
    values = []
    for name, cell, (low, high) in zip(names, cells, ranges, strict=True):
        try:
            value = float(cell)
        except ValueError:
            value = np.nan
        if not low <= value <= high:
            allowed = f"a number from {low:g} to {high:g}"
            raise WeatherError(shown(cell.strip()), allowed, file=file, line=1, key=name)
        values.append(value)
    return Station(values[2], values[3])
