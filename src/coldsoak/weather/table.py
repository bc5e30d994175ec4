"""The one table that every weather source is read into."""

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class WeatherTable:
    """Weather at one place from the start of a trip to its end.

    All arrays have the same length; between two of the times everything runs linearly.

    Attributes
    ----------
    seconds : time since the trip's start [s]; strictly increasing, from 0 to the trip's length
    air : air temperature [K]
    wind : wind speed [m/s]; reported (10 m above ground) unless `wind_at_cylinder`
    wind_at_cylinder : whether `wind` is already the wind at the cylinder
    vapor_pressure : partial pressure of water vapor [Pa]
    sky : effective temperature of the sky [K]
    beam, diffuse, global_ : irradiance normal to the beam, and on a level surface [W/m2]
    sun_elevation, sun_azimuth : of the sun above the horizon, and from north over east [rad]
    station_pressure : pressure of the air [Pa absolute]
    source : where the weather comes from, in words
    notes : what was assumed or mended, one sentence each
    """

    seconds: Array
    air: Array
    wind: Array
    wind_at_cylinder: bool
    vapor_pressure: Array
    sky: Array
    beam: Array
    diffuse: Array
    global_: Array
    sun_elevation: Array
    sun_azimuth: Array
    station_pressure: Array
    source: str
    notes: tuple[str, ...]

    def __post_init__(self) -> None:
        """Refuse a table that no reader may give: a defect of the program, not of the input."""
        for field in fields(self):
            value = getattr(self, field.name)
            if isinstance(value, np.ndarray) and (
                value.shape != self.seconds.shape or not np.isfinite(value).all()
            ):
                raise ValueError(f"weather table: {field.name} is uneven or not finite")
        if self.seconds.size < 2 or self.seconds[0] != 0.0 or not (np.diff(self.seconds) > 0).all():
            raise ValueError("weather table: times do not increase from 0")
