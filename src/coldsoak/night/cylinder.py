"""One cylinder in the weather: heat through its wall and the rates of its state.

A cylinder's state is a row of :data:`WIDTH` numbers: temperature of the liquid and wetted wall [K],
frost [kg/m2], moles of each component [mol], and four running sums since the start: heat through
the wall, heat from dew and frost, heat from the heater, and enthalpy carried out by vapor [J].
"""

from typing import NamedTuple

from coldsoak.night.records import Floats, Night, Record, part_of_row
from coldsoak.physics.compiled import compiled
from coldsoak.physics.film import Outside, Wall, fin_heat, wall_heat
from coldsoak.physics.fuel import N_COMPONENTS
from coldsoak.physics.vessel import level

TEMPERATURE = 0
FROST = 1
MOLES = 2
WALL_HEAT = MOLES + N_COMPONENTS
FROST_HEAT = WALL_HEAT + 1
HEATER_HEAT = WALL_HEAT + 2
CARRIED_OUT = WALL_HEAT + 3
WIDTH = WALL_HEAT + 4

LEAST_WETTED = 0.02
"""Share of the wall that stays with the contents when no liquid is left to wet it: the vapor and
the last drops keep in touch with the bottom."""

HEATER_BAND = 1.0
"""A heater's thermostat fades from full power to none over this temperature [K]."""


class Warmth(NamedTuple):
    """Heat flowing into a cylinder's contents and what goes with it."""

    wall: float
    """Through wetted and dry wall, without dew and frost [W]."""
    frost: float
    """From dew and frost [W]."""
    heater: float
    """[W]"""
    frost_rate: float
    """Growth of the frost layer [kg/m2s]."""
    wetted: float
    """Wall area at the temperature of the contents [m2]."""


@compiled
def outside_at(night: Night, row: int, seconds: float, c: int) -> Outside:
    """Weather at the wall of cylinder ``c``, linear between ``row`` and the next."""
    after = part_of_row(night.weather, row, seconds)
    before = 1.0 - after
    low = night.weather[row]
    high = night.weather[row + 1]
    return Outside(
        before * low.air + after * high.air,
        night.cylinders[c].wind_factor * (before * low.wind + after * high.wind),
        before * low.vapor_pressure + after * high.vapor_pressure,
        before * low.sky + after * high.sky,
        before * night.sun[c, row] + after * night.sun[c, row + 1],
        night.supply[0].station_pressure,
    )


@compiled
def warmth(
    temperature: float,
    frost: float,
    liquid_volume: float,
    outside: Outside,
    cylinder: Record,
) -> Warmth:
    """Heat that a cylinder takes in with its contents at ``temperature`` [K].

    The wetted wall passes heat through outside film, frost, wall and inside film; the dry wall
    above the liquid collects heat and conducts it down to the liquid as a fin
    (:mod:`coldsoak.physics.film`).
    """
    wall = Wall(
        cylinder.upright,
        cylinder.height,
        cylinder.diameter,
        cylinder.thickness,
        cylinder.conductivity,
        cylinder.emissivity,
        cylinder.absorptivity,
        cylinder.sky_view,
        cylinder.cover,
    )
    _, wetted, contact = level(cylinder.levels, liquid_volume / cylinder.volume)
    wetted = max(wetted, LEAST_WETTED * cylinder.area)
    film = wall_heat(temperature, frost, outside, wall)
    dry = cylinder.area - wetted
    fin = fin_heat(film.bare_flux, film.bare_conductance, wall, dry, contact)
    share = min(1.0, max(0.0, (cylinder.heater_below - temperature) / HEATER_BAND))
    return Warmth(
        wetted * (film.flux - film.frost_flux) + fin,
        wetted * film.frost_flux,
        share * cylinder.heater,
        film.frost_rate,
        wetted,
    )


@compiled
def cylinder_rates(
    contents: Record, warm: Warmth, wall_capacity: float, draw: float, rates: Floats
) -> None:
    """Fill ``rates`` (float64[WIDTH]) with the time derivatives of a cylinder's state.

    ``draw`` is the vapor taken [mol/s], ``wall_capacity`` per area [J/m2K]. The wall that falls dry
    leaves at the temperature it has, so it changes no temperature.
    """
    heat = warm.wall + warm.frost + warm.heater - draw * contents.draw_heat
    rates[TEMPERATURE] = heat / (contents.heat_capacity + wall_capacity * warm.wetted)
    rates[FROST] = warm.frost_rate
    for k in range(N_COMPONENTS):
        rates[MOLES + k] = -draw * contents.vapor[k]
    rates[WALL_HEAT] = warm.wall
    rates[FROST_HEAT] = warm.frost
    rates[HEATER_HEAT] = warm.heater
    rates[CARRIED_OUT] = draw * contents.vapor_enthalpy
