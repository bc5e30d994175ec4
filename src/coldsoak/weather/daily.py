"""Weather from the lows and highs of a forecast, through a published curve of the day."""

from itertools import pairwise
from typing import NamedTuple, Protocol, runtime_checkable

import numpy as np
from numpy.typing import NDArray

from coldsoak.errors import WeatherError
from coldsoak.physics.sun import daylight
from coldsoak.weather.constant import hours, require_air, side_values
from coldsoak.weather.gaps import Span
from coldsoak.weather.observed import Observed
from coldsoak.weather.place import Place, sky_over

Array = NDArray[np.float64]

DAY = 86400.0
SHORTEST_DAY, LONGEST_DAY = 4.0 * 3600.0, 20.0 * 3600.0
"""Day lengths [s] between which the curve is defined: in a shorter one its high would come
after sunset, in a longer one its night would have no hour left to cool."""


CLOCK_ERROR = 7200.0
"""How far clocks stray from the sun [s]: legal time reaches this beyond the nautical zones. A
dawn or afternoon so near the trip's end may lie beyond it, and needs no value of its own."""


@runtime_checkable
class DailyWeather(Protocol):
    """What lows and highs say: [K]; wind [m/s], humidity [0 to 1] and sky for the whole trip."""

    @property
    def lows(self) -> tuple[float, ...]: ...
    @property
    def highs(self) -> tuple[float, ...]: ...
    @property
    def wind(self) -> float | None: ...
    @property
    def humidity(self) -> float | None: ...
    @property
    def sky(self) -> str | float | None: ...


class Day(NamedTuple):
    """Sunrise and sunset since the trip's start [s], the low at sunrise and the high [K]."""

    rise: float
    set: float
    low: float
    high: float

    @property
    def peak(self) -> float:
        """Time of the high [s]: two hours after the middle between sunrise and sunset."""
        return 0.5 * (self.rise + self.set) + 7200.0


def day_temperature(seconds: Array, day: Day) -> Array:
    """Air temperature [K] from sunrise to sunset.

    Parameters
    ----------
    seconds : from `day.rise` to `day.set` [s]

    Source: Linvill (1990), Calculating chilling hours and chill units from daily maximum and
    minimum temperature observations, HortScience 25, 14-16, eq. 1: a sine that is at the low at
    sunrise and at the high two hours after noon.
    """
    stretch = day.set - day.rise + 4.0 * 3600.0
    swing = np.sin(np.pi * (seconds - day.rise) / stretch)
    return np.asarray(day.low + (day.high - day.low) * swing)


def night_temperature(seconds: Array, day: Day, dawn: Day) -> Array:
    """Air temperature [K] from the sunset of one day to the sunrise of the next.

    Parameters
    ----------
    seconds : from `day.set` to `dawn.rise` [s]

    Source: Linvill (1990), eq. 2: it falls with the logarithm of the hours since sunset (flat in
    the first hour) and reaches the next low at sunrise.
    """
    dusk = day_temperature(np.asarray(day.set), day)
    passed = np.maximum((seconds - day.set) / 3600.0, 1.0)
    night = (dawn.rise - day.set) / 3600.0
    return np.asarray(dusk - (dusk - dawn.low) * np.log(passed) / np.log(night))


def curve(seconds: Array, days: list[Day]) -> Array:
    """Air temperature [K] through all lows and highs.

    Parameters
    ----------
    seconds : from the first day's sunrise to the last day's sunrise [s]
    days : in order, at least two

    Chosen among Linvill (1990), De Wit (1978) and Parton & Logan (1981). Rebuilding a year of
    hours from daily lows and highs, it is off by 1.57 K inland (De Wit 1.79 K) and 1.17 K on
    a windy coast (1.17 K), root mean square: tests/weather/test_daily.py. Parton & Logan's
    night ends above the low; this one meets every low and every high.
    """
    air = np.empty_like(seconds)
    for day, dawn in pairwise(days):
        light = (seconds >= day.rise) & (seconds <= day.set)
        dark = (seconds > day.set) & (seconds <= dawn.rise)
        air[light] = day_temperature(seconds[light], day)
        air[dark] = night_temperature(seconds[dark], day, dawn)
    return air


def observe_daily(weather: DailyWeather, span: Span, place: Place) -> Observed:
    """Hourly weather through the lows and highs of a forecast.

    The first low is that of the first dawn at or after the trip's start, the first high that of
    the first afternoon; what lies just before the start or after the end takes the nearest
    value given. The wind is that at the cylinder; wind, humidity and sky hold all the time.

    Parameters
    ----------
    weather : the inline record of the trip file
    span : start and length of the trip
    place : of the trip; sunrise and sunset follow from it

    Raises WeatherError if there are fewer lows than dawns in the trip or fewer highs than
    afternoons, or if a value is beyond belief.
    """
    _require_believable(weather)
    lights, notes = _lights(span, place)
    days, met = _assigned(lights, weather, span)
    turns = [time for day in days for time in (day.rise, day.peak, day.set)]
    inside = [time for time in turns if 0.0 < time < span.length]
    seconds = np.unique(np.concatenate((hours(span.length), inside)))
    known = side_values(weather.wind, weather.humidity, weather.sky)
    return Observed(
        source="lows and highs through a daily curve (Linvill 1990)",
        seconds=seconds,
        air=curve(seconds, days),
        values={name: np.full_like(seconds, value) for name, value in known.items()},
        wind_at_cylinder=True,
        offset=span.start.utcoffset(),
        notes=(*met, *notes),
    )


def _require_believable(weather: DailyWeather) -> None:
    """Raise WeatherError for a low or high that nobody meets, or if the two lists are swapped."""
    for name, given in (("lows", weather.lows), ("highs", weather.highs)):
        for number, value in enumerate(given, start=1):
            require_air(value, f"weather.{name}, value {number}")
    if weather.lows and weather.highs and max(weather.highs) < min(weather.lows):
        found = "every high is below every low"
        raise WeatherError(found, "lows and highs may be swapped", key="weather.lows")


def _lights(span: Span, place: Place) -> tuple[list[tuple[float, float]], tuple[str, ...]]:
    """Sunrise and sunset of every day around the trip, to the whole second since its start."""
    over = sky_over(span.start, span.start.utcoffset(), place)
    one_noon, _ = daylight(over.days, over.latitude, over.longitude)
    around = one_noon + np.arange(-2.0, span.length / DAY + 3.0)  # each near its own noon
    noons, shares = daylight(around, over.latitude, over.longitude)
    lengths = np.clip(shares * DAY, SHORTEST_DAY, LONGEST_DAY)
    middle, half = np.round((noons - over.days) * DAY), np.round(0.5 * lengths)
    lights = list(zip((middle - half).tolist(), (middle + half).tolist(), strict=True))
    if np.allclose(lengths, shares * DAY):
        return lights, ()
    return lights, ("The daily curve takes the day as 4 h to 20 h long; here it is not.",)


def _assigned(
    lights: list[tuple[float, float]], weather: DailyWeather, span: Span
) -> tuple[list[Day], tuple[str, ...]]:
    """Every day with its low and high, and a note on when those inside the trip are met."""
    bare = [Day(rise, set_, np.nan, np.nan) for rise, set_ in lights]
    dawns, peaks = [day.rise for day in bare], [day.peak for day in bare]
    lows = _by_order("low", "dawn", weather.lows, dawns, span)
    highs = _by_order("high", "afternoon", weather.highs, peaks, span)
    days = [
        day._replace(low=low, high=high) for day, low, high in zip(bare, lows, highs, strict=True)
    ]
    turns = sorted([*zip(dawns, lows, strict=True), *zip(peaks, highs, strict=True)])
    met = [
        f"{value - 273.15:.1f} degC at {span.clock(time)}"
        for time, value in turns
        if 0.0 <= time <= span.length
    ]
    return days, (f"Lows and highs are met so: {', '.join(met)}.",) if met else ()


def _by_order(
    what: str, when: str, given: tuple[float, ...], times: list[float], span: Span
) -> list[float]:
    """A value for each of the times: in order from the trip's start, held before and after.

    Raises WeatherError if fewer are given than the trip needs.
    """
    needed = sum(0.0 <= time <= span.length - CLOCK_ERROR for time in times)
    if len(given) < max(needed, 1):
        found = f"{len(given)} {what}s for a trip with {needed} {when}s"
        allowed = f"give one {what} for each {when}, in order from the trip's start"
        raise WeatherError(found, allowed, key=f"weather.{what}s")
    first = sum(time < 0.0 for time in times)
    return [given[min(max(at - first, 0), len(given) - 1)] for at in range(len(times))]
