"""The night as a time series: what was asked, and what the cylinders could have given."""

from dataclasses import dataclass

import numpy as np

from coldsoak.night.contents import CONTENTS, forget
from coldsoak.night.cylinder import FROST, MOLES, TEMPERATURE, WIDTH, outside_at, warmth
from coldsoak.night.march import Outcome
from coldsoak.night.rates import settle_cylinder_fully, vapor_heat
from coldsoak.night.records import Floats, Night, Record, Switches, Table, find_row
from coldsoak.night.track import Track
from coldsoak.physics.compiled import compiled
from coldsoak.physics.film import Outside
from coldsoak.physics.fuel import MOLAR_MASS, N_COMPONENTS, bubble_temperature

GRID = 600.0
"""Spacing of a plan's series [s]."""

HORIZON = 3600.0
"""A store that runs down is counted as if it were used over this time [s]."""


@dataclass(frozen=True, eq=False)
class Series:
    """A night in rows; ``n`` rows, ``c`` cylinders.

    Attributes
    ----------
    seconds : float64[n]
        Time since the start [s].
    air, wind : float64[n]
        Outside air [K] and wind as reported [m/s].
    inside : float64[n]
        Inside air [K]; NaN without a shelter.
    asked : float64[n]
        Gross heat that the burners ask for, mean over the time to the next row [W].
    vapor_can, sensible_can, wall_can : float64[n]
        Gross heat of the fuel that the open cylinders could give over the next hour without
        falling below what the regulator needs: from the vapor above the liquid, from the heat of
        liquid and wetted wall, and from heat through the wall with the liquid at its coldest [W].
    liquid, gauge, left : float64[n, c]
        Liquid temperature [K], gauge pressure [Pa], fuel in the cylinder [kg].
    open_cylinder : bool[n, c]
        Whether it is connected.
    """

    seconds: Floats
    air: Floats
    wind: Floats
    inside: Floats
    asked: Floats
    vapor_can: Floats
    sensible_can: Floats
    wall_can: Floats
    liquid: Floats
    gauge: Floats
    left: Floats
    open_cylinder: Switches


@compiled
def could_give(
    track: Track, night: Night, contents: Table, gauge: Floats, left: Floats, stores: Floats
) -> None:
    """Fill gauge pressure [Pa] and contents [kg], float64[n, c], and stores, float64[n, 3] [W]."""
    row = 0
    state = np.zeros(contents.size * WIDTH)
    for n in range(track.seconds.size):
        row = find_row(night.weather, track.seconds[n], row)
        for c in range(contents.size):
            state[c * WIDTH : (c + 1) * WIDTH] = track.cylinders[n, c]
            settle_cylinder_fully(c, state, night, contents)
            gauge[n, c] = contents[c].pressure - night.supply[0].station_pressure
            for k in range(N_COMPONENTS):
                left[n, c] += track.cylinders[n, c, MOLES + k] * MOLAR_MASS[k]
            if track.side[n, c] >= 0:
                outside = outside_at(night, row, track.seconds[n], c)
                add_stores(track.cylinders[n, c], contents[c], outside, night, c, stores[n])


@compiled
def add_stores(
    state: Floats, contents: Record, outside: Outside, night: Night, c: int, stores: Floats
) -> None:
    """Add what open cylinder ``c`` could give to ``stores``, float64[3] [W].

    Wall and cooling together give no more than the liquid that is there.
    """
    cylinder = night.cylinders[c]
    minimum = night.supply[0].minimum
    coldest = bubble_temperature(minimum, contents.liquid)
    warm = warmth(coldest, state[FROST], contents.liquid_volume, outside, cylinder)
    heat = vapor_heat(contents)
    per_watt = heat / contents.latent
    moles = 0.0
    for k in range(N_COMPONENTS):
        moles += state[MOLES + k]
    most = max(0.0, moles - contents.vapor_moles) * heat / HORIZON
    wall = min(most, max(0.0, warm.wall + warm.frost + warm.heater) * per_watt)
    capacity = contents.sensible_capacity + cylinder.wall_capacity * warm.wetted
    cooling = capacity * max(0.0, state[TEMPERATURE] - coldest) / HORIZON * per_watt
    spare = max(0.0, 1.0 - minimum / contents.pressure)
    stores[0] += contents.vapor_moles * spare * heat / HORIZON
    stores[1] += min(cooling, most - wall)
    stores[2] += wall


def series_of(night: Night, outcome: Outcome) -> Series:
    """Series of a march that recorded its track."""
    track = outcome.track
    rows, count = track.side.shape
    contents = np.zeros(count, CONTENTS).view(np.recarray)
    for c in range(count):
        forget(contents[c], night.cylinders[c].moles)
    gauge = np.zeros((rows, count))
    left = np.zeros((rows, count))
    stores = np.zeros((rows, 3))
    could_give(track, night, contents, gauge, left, stores)
    asked = np.diff(track.asked) / np.diff(track.seconds)
    return Series(
        seconds=track.seconds,
        air=np.interp(track.seconds, night.weather.seconds, night.weather.air),
        wind=np.interp(track.seconds, night.weather.seconds, night.weather.wind),
        inside=track.room,
        asked=np.append(asked, asked[-1:] if rows > 1 else 0.0),
        vapor_can=stores[:, 0],
        sensible_can=stores[:, 1],
        wall_can=stores[:, 2],
        liquid=track.cylinders[:, :, TEMPERATURE],
        gauge=gauge,
        left=left,
        open_cylinder=track.side >= 0,
    )
