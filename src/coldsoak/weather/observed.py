"""What a weather source gave, before anything is assumed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Observed:
    """Weather as a source gave it.

    Attributes
    ----------
    source : where it comes from, in words
    seconds : time since the trip's start [s], strictly increasing
    air : air temperature [K], NaN where a value is missing
    values : what else is known, each as long as `seconds` and NaN where a value is missing:
        "wind" [m/s]; "humidity" relative, over liquid water, as weather services report it
        [0 to 1]; "dew point" over liquid water [K]; "cloud" share of the sky [0 to 1];
        "infrared" of the sky on a level surface, "global", "beam", "diffuse" [W/m2];
        "pressure" of the station [Pa]
    file : its name for error messages, if it is a file
    lines : the file's line of every observation
    wind_at_cylinder : whether the wind is already that at the cylinder
    elevation : of the place that was observed [m]
    offset : of the clock from UTC
    notes : what the reader assumed or mended
    """

    source: str
    seconds: Array
    air: Array
    values: Mapping[str, Array] = field(default_factory=dict)
    file: str | None = None
    lines: tuple[int, ...] = ()
    wind_at_cylinder: bool = False
    elevation: float | None = None
    offset: timedelta | None = None
    notes: tuple[str, ...] = ()
