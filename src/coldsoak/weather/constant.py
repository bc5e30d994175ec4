"""Weather that stays the same: one temperature, wind, humidity and sky for the whole trip."""

from datetime import datetime
from typing import Protocol

import numpy as np

from coldsoak.errors import WeatherError
from coldsoak.weather.observed import Observed

STEP = 3600.0
"""Time between two rows of the table [s], so that the sun's height between them runs straight
to 0.4 degrees."""

SKIES = {"clear": 0.0, "overcast": 1.0}


class ConstantWeather(Protocol):
    """What constant weather says: temperature [K], wind [m/s], humidity [0 to 1] and sky."""

    @property
    def temperature(self) -> float: ...
    @property
    def wind(self) -> float | None: ...
    @property
    def humidity(self) -> float | None: ...
    @property
    def sky(self) -> str | float | None: ...


def observe_constant(weather: ConstantWeather, start: datetime, length: float) -> Observed:
    """The same observation at every hour of a trip of `length` [s].

    The wind is that at the cylinder. What is None is left to be assumed.

    Raises WeatherError if a value is beyond belief.
    """
    seconds = hours(length)
    require_air(weather.temperature, "weather.temperature")
    known = side_values(weather.wind, weather.humidity, weather.sky)
    return Observed(
        source="constant weather",
        seconds=seconds,
        air=np.full_like(seconds, weather.temperature),
        values={name: np.full_like(seconds, value) for name, value in known.items()},
        wind_at_cylinder=True,
        offset=start.utcoffset(),
    )


def hours(length: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Every hour from 0 to a trip's length [s], and its end."""
    return np.append(np.arange(0.0, length, STEP), length)


def side_values(
    wind: float | None, humidity: float | None, sky: str | float | None
) -> dict[str, float]:
    """Those of wind, humidity and cloud share that an inline record gives.

    Raises WeatherError if one is beyond belief.
    """
    cloud = SKIES.get(sky) if isinstance(sky, str) else sky
    if isinstance(sky, str) and cloud is None:
        raise WeatherError(f'"{sky}"', '"clear", "overcast" or a share in %', key="weather.sky")
    given = {"wind": wind, "humidity": humidity, "cloud": cloud}
    for name, value in given.items():
        most = 90.0 if name == "wind" else 1.0
        if value is not None and not 0.0 <= value <= most:
            allowed = "0 to 90 m/s" if name == "wind" else "0 to 100 %"
            key = "sky" if name == "cloud" else name
            raise WeatherError(f"{value:g}", f"allowed is {allowed}", key=f"weather.{key}")
    return {name: value for name, value in given.items() if value is not None}


def require_air(temperature: float, key: str) -> None:
    """Raise WeatherError for an air temperature [K] that nobody meets."""
    if not 203.15 <= temperature <= 333.15:
        found = f"{temperature - 273.15:.1f} degC"
        raise WeatherError(found, "allowed is -70 to 60 degC (-94 to 140 degF)", key=key)
