"""Beam, diffuse and global irradiance from whichever of the three a source has."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

LOWEST_SUN = np.radians(3.0)
"""Sun's elevation [rad] under which a level reading says nothing about the beam: the cosine of
the angle is known to no better than its own size there. Common practice, no source."""

STRONGEST_BEAM = 1100.0
"""Upper end [W/m2] of a beam that is computed from two level readings: clear dry mountain air
reaches about this. Common practice, no source."""


class Sunlight(NamedTuple):
    """Irradiance normal to the beam, diffuse and global on a level surface [W/m2]."""

    beam: Array
    diffuse: Array
    global_: Array
    notes: tuple[str, ...]


def sunlight(
    beam: Array | None, diffuse: Array | None, global_: Array | None, elevation: Array, days: Array
) -> Sunlight:
    """All three irradiances from one, two or three of them; none means no sun.

    Parameters
    ----------
    beam, diffuse, global_ : [W/m2] where the source has them
    elevation : of the sun [rad]
    days : time since noon UT of 2000-01-01 [d]

    global = beam sin(elevation) + diffuse. The beam is zero with the sun below the horizon.
    """
    up = np.sin(np.maximum(elevation, 0.0))
    zero = np.zeros_like(elevation)
    if beam is not None:
        lit = np.where(elevation > 0.0, beam, 0.0)
        return _with_beam(lit, diffuse, global_, up)
    if global_ is not None and diffuse is not None:
        direct = np.clip((global_ - diffuse) / np.maximum(up, np.sin(LOWEST_SUN)), 0.0, None)
        direct = np.where(elevation > LOWEST_SUN, np.minimum(direct, STRONGEST_BEAM), 0.0)
        return Sunlight(direct, diffuse, global_, ())
    if global_ is not None:
        return split_by_erbs(global_, elevation, days)
    if diffuse is not None:
        return Sunlight(zero, diffuse, diffuse, ("Only diffuse sunlight is given: no beam.",))
    return Sunlight(zero, zero, zero, ("No sunlight is given: none is counted (safe side).",))


def _with_beam(beam: Array, diffuse: Array | None, global_: Array | None, up: Array) -> Sunlight:
    """The other irradiances where the beam is known; `up` is the sine of the elevation."""
    if diffuse is None and global_ is None:
        zero = np.zeros_like(beam)
        note = "Only the sun's beam is given: no diffuse light counted (safe side)."
        return Sunlight(beam, zero, beam * up, (note,))
    if diffuse is None:
        diffuse = np.maximum((0.0 if global_ is None else global_) - beam * up, 0.0)
    return Sunlight(beam, diffuse, beam * up + diffuse if global_ is None else global_, ())


def split_by_erbs(global_: Array, elevation: Array, days: Array) -> Sunlight:
    """Beam and diffuse from global irradiance alone.

    Source: Erbs, Klein & Duffie (1982), Estimation of the diffuse radiation fraction for hourly,
    daily and monthly-average global radiation, Solar Energy 28, 293-302; pvlib's erbs.
    """
    from pvlib.irradiance import erbs

    day_of_year = (days + 0.5) % 365.25 + 1.0
    zenith = 90.0 - np.degrees(elevation)
    parts = erbs(global_, zenith, day_of_year)
    beam = np.where(elevation > 0.0, np.minimum(parts["dni"], STRONGEST_BEAM), 0.0)
    note = "Only global sunlight is given: split into beam and diffuse after Erbs et al. (1982)."
    return Sunlight(beam, np.asarray(parts["dhi"], dtype=np.float64), global_, (note,))
