"""What panels give: from the sun and the air of the weather table to power at the battery."""

from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from coldsoak.physics.sky import SNOW_ALBEDO
from coldsoak.weather.table import WeatherTable

if TYPE_CHECKING:
    from coldsoak.rig.electric import Solar

Array = NDArray[np.float64]

STANDARD_IRRADIANCE = 1000.0
"""At which panels are rated [W/m2]."""

LOWEST_SUN = 1.0
"""Elevation of the sun under which its beam counts for nothing on a panel [deg]: trees and hills.
Common practice, no source."""


def panel_power(panels: "Solar", weather: WeatherTable, start: datetime) -> Array:
    """Power of the panels at the battery at each row of the weather table [W].

    Parameters
    ----------
    panels : as the trip file describes them
    weather : its irradiances and the sun's position are those of the place
    start : of the trip; its day of the year sets the distance to the sun

    The sky's diffuse light after Hay & Davies (1980), the ground's from even snow, reflection at
    the glass after De Soto, Klein & Beckman (2006) with diffuse light after Marion (2017), the
    temperature of the cells after Faiman (2008), their power after Dobos (2014, PVWatts version
    5, eq. 8): all as pvlib has them. Shade of trees, hills and the rack is in `snow` only.
    """
    from pvlib.pvsystem import pvwatts_dc
    from pvlib.temperature import faiman

    light = light_on_cells(panels, weather, start)
    cells = faiman(light, weather.air - 273.15, weather.wind)
    rated = pvwatts_dc(light, cells, panels.power, -panels.coefficient)
    return np.asarray(np.maximum(rated, 0.0) * (1.0 - panels.snow) * panels.efficiency)


def light_on_cells(panels: "Solar", weather: WeatherTable, start: datetime) -> Array:
    """Irradiance in the plane of the panels less what the glass sends back [W/m2]."""
    from pvlib import iam, irradiance

    tilt, azimuth = np.degrees(panels.tilt), np.degrees(panels.azimuth)
    elevation = np.degrees(weather.sun_elevation)
    sun = 90.0 - elevation, np.degrees(weather.sun_azimuth)
    beam = np.where(elevation > LOWEST_SUN, weather.beam, 0.0)
    days = start.timetuple().tm_yday + weather.seconds / 86400.0
    beyond = irradiance.get_extra_radiation(np.mod(days - 1.0, 366.0) + 1.0)
    incidence = irradiance.aoi(tilt, azimuth, *sun)
    sky = irradiance.haydavies(tilt, azimuth, weather.diffuse, beam, beyond, *sun)
    ground = irradiance.get_ground_diffuse(tilt, weather.global_, albedo=SNOW_ALBEDO)
    passed = iam.marion_diffuse("physical", tilt)
    direct = beam * np.maximum(np.cos(np.radians(incidence)), 0.0) * iam.physical(incidence)
    return np.asarray(direct + sky * passed["sky"] + ground * passed["ground"])
