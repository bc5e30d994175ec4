"""From the weather of a trip file, whatever its kind, to the weather table."""

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from coldsoak.errors import WeatherError
from coldsoak.weather.complete import complete
from coldsoak.weather.constant import ConstantWeather, observe_constant
from coldsoak.weather.csv import read_csv
from coldsoak.weather.daily import DailyWeather, observe_daily
from coldsoak.weather.files import decode, is_epw, is_tmy3, read_bytes
from coldsoak.weather.gaps import Span
from coldsoak.weather.observed import Observed
from coldsoak.weather.place import Place
from coldsoak.weather.table import WeatherTable

if TYPE_CHECKING:
    from coldsoak.rig.trip import Trip

LONGEST = 366.0 * 86400.0
"""Longest trip [s]: a typical year is passed through once."""


def read_weather(
    source: Path | ConstantWeather | DailyWeather,
    *,
    start: datetime,
    length: float,
    place: Place,
    folder: Path,
) -> WeatherTable:
    """The weather of a trip.

    Parameters
    ----------
    source : a weather file (EPW, TMY3 or CSV, told apart by what is in it), or the inline
        record of a trip file: constant weather, or lows and highs
    start : of the trip; naive in the clock of the place, or with its UTC offset
    length : of the trip [s], above 0, at most a year
    place : of the trip: elevation [m], latitude, longitude [deg], each may be None
    folder : from which a relative path is taken, the trip file's own

    Raises WeatherError for a source that cannot be used.
    """
    if not (1900 <= start.year <= 2200 and 0.0 < length <= LONGEST):
        found = f"a start in {start.year} and a length of {length / 3600.0:g} h"
        raise WeatherError(found, "a start in 1900 to 2200, and more than 0 h and at most 366 days")
    span = Span(start, length)
    if isinstance(source, Path):
        return complete(_read_file(folder / source, str(source), span), span, place)
    if isinstance(source, DailyWeather):
        return complete(observe_daily(source, span, place), span, place)
    return complete(observe_constant(source, start, length), span, place)


def weather_of(trip: "Trip") -> WeatherTable:
    """The weather that a trip names, from its start to its end."""
    folder = Path() if trip.path is None else trip.path.parent
    return read_weather(
        trip.weather, start=trip.start, length=trip.length, place=trip.place, folder=folder
    )


def _read_file(path: Path, name: str, span: Span) -> Observed:
    """The observations in a weather file, by the reader of its format."""
    content = read_bytes(path)
    if is_epw(content, path):
        from coldsoak.weather.epw import read_epw

        return read_epw(content, name, span)
    if is_tmy3(content):
        from coldsoak.weather.tmy3 import read_tmy3

        return read_tmy3(content, name, span)
    if path.suffix.lower() not in (".csv", ".txt"):
        allowed = "a CSV (.csv), an EnergyPlus file (.epw) or a typical year in TMY3 form (.csv)"
        raise WeatherError(f'a file ending in "{path.suffix}"', allowed, file=name)
    return read_csv(decode(content, name), name, span.start, span.length)
