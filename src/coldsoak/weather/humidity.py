"""Water vapor in the air of a whole series."""

import numpy as np
from numpy.typing import NDArray

from coldsoak.physics.moistair import saturation_over_ice, saturation_over_water

Array = NDArray[np.float64]


def vapor_at_dew_point(dew_point: Array) -> Array:
    """Vapor pressure [Pa] of air with a dew point over liquid water [K], also below 0 C."""
    return np.array([saturation_over_water(kelvin) for kelvin in dew_point.tolist()])


def held_by_air(air: Array, vapor_pressure: Array) -> Array:
    """The vapor pressure [Pa] that air [K] can keep: at most saturation over ice or water.

    Vapor beyond that grows frost and rime on everything at air temperature and is soon gone.
    Weather services report relative humidity over liquid water at all temperatures
    (WMO-No. 8, Guide to Instruments and Methods of Observation, part I, ch. 4), so readings
    in cold air end at 82 % for -20 C, not at 100 %.
    """
    most = [
        saturation_over_ice(kelvin) if kelvin < 273.15 else saturation_over_water(kelvin)
        for kelvin in air.tolist()
    ]
    return np.minimum(vapor_pressure, most)
