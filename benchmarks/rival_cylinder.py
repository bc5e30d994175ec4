"""What is in a cylinder of propane and what leaves it, from first principles.

Two saturated phases fill a closed volume, and the first law for an open system says how they warm:
nothing here is taken from `coldsoak.night`, which derives its rates by Clapeyron's equation.
"""

from typing import Any, NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray
from rival_film import Body, Surroundings, heat_in

Floats = NDArray[np.float64]

# The model's own choices, which are no laws. Their reasons stand beside them in coldsoak.night.
BAND = 5000.0
"""Pressure over which a cylinder that falls behind hands its share over [Pa]."""
LEAST_WETTED = 0.02
"""Share of the wall that stays with the contents."""
HEATER_BAND = 1.0
"""A cylinder's heater fades to nothing over this temperature [K]."""

MOLAR_MASS = 0.04409562
"""Propane [kg/mol]."""
GROSS_HEAT = (3 * 393.51e3 + 4 * 285.83e3 - 104.68e3) / MOLAR_MASS
"""Propane with the water condensed [J/kg], from the heats of formation at 25 C of carbon dioxide,
liquid water (CODATA) and propane (NIST), from memory."""

NUDGE = 0.01
"""Step of the numerical derivative with temperature [K]; its error is 1e-5 of the derivative."""
PINCH = 1e-6
"""Relative step of the numerical derivative with mass."""


class Phases(NamedTuple):
    """Saturated liquid and vapor: densities [kg/m3], internal energies [J/kg]."""

    liquid_density: float
    vapor_density: float
    liquid_energy: float
    vapor_energy: float


class Gas(NamedTuple):
    """Vapor alone: pressure [Pa], internal energy [J/kg]."""

    pressure: float
    energy: float


class Propane(Protocol):
    """Where the script takes its propane from."""

    def phases(self, temperature: float) -> Phases:
        """Both phases at saturation."""
        ...

    def saturation_pressure(self, temperature: float) -> float:
        """[Pa]"""
        ...

    def gas(self, temperature: float, density: float) -> Gas:
        """Vapor thinner than saturated."""
        ...


class Contents(NamedTuple):
    """What a cylinder holds."""

    pressure: float
    """[Pa]"""
    liquid_volume: float
    """[m3]"""
    energy: float
    """Internal [J]."""
    energy_of_mass: float
    """Change of the energy with mass, at constant temperature and volume [J/kg]."""
    vapor_enthalpy: float
    """[J/kg]"""


class Cylinder(NamedTuple):
    """A cylinder's constants, as in `coldsoak.night.records.CYLINDER`."""

    body: Body
    volume: float
    fills: Floats
    wetted: Floats
    contact: Floats
    area: float
    wall_capacity: float
    wind_factor: float
    heater: float
    heater_below: float


def fills_of(rows: int) -> Floats:
    """Filling of each row of a level table (`coldsoak.physics.vessel.level_table`)."""
    x = np.linspace(0, 1, rows)
    return np.where(x < 0.5, 8 * x**4, 1 - 8 * (1 - x) ** 4)


def read_cylinder(row: Any) -> Cylinder:
    """Constants of a cylinder from its record."""
    levels = np.asarray(row.levels)
    return Cylinder(
        Body(*(getattr(row, name).item() for name in Body._fields)),
        float(row.volume),
        fills_of(len(levels)),
        levels[:, 1].copy(),
        levels[:, 2].copy(),
        float(row.area),
        float(row.wall_capacity),
        float(row.wind_factor),
        float(row.heater),
        float(row.heater_below),
    )


def split(mass: float, volume: float, phases: Phases) -> tuple[float, float]:
    """Volume of the liquid [m3] and internal energy [J] of two phases that fill a volume."""
    rho_l, rho_v, u_l, u_v = phases
    liquid = (mass - volume * rho_v) / (rho_l - rho_v)
    return liquid, rho_l * liquid * u_l + rho_v * (volume - liquid) * u_v


def contents(temperature: float, mass: float, volume: float, propane: Propane) -> Contents:
    """Two saturated phases that fill the volume, or vapor alone if there is too little for them."""
    phases = propane.phases(temperature)
    rho_l, rho_v, u_l, u_v = phases
    liquid, energy = split(mass, volume, phases)
    if liquid <= 0:
        return vapor_alone(temperature, mass, volume, propane)
    pressure = propane.saturation_pressure(temperature)
    energy_of_mass = (rho_l * u_l - rho_v * u_v) / (rho_l - rho_v)
    return Contents(pressure, liquid, energy, energy_of_mass, u_v + pressure / rho_v)


def vapor_alone(temperature: float, mass: float, volume: float, propane: Propane) -> Contents:
    """Contents without liquid."""
    pressure, energy = propane.gas(temperature, mass / volume)
    more = mass * (1 + PINCH)
    fuller = more * propane.gas(temperature, more / volume).energy
    energy_of_mass = (fuller - mass * energy) / (mass * PINCH)
    return Contents(pressure, 0.0, mass * energy, energy_of_mass, energy + pressure * volume / mass)


def warmer_energy(
    temperature: float, mass: float, volume: float, liquid: bool, propane: Propane
) -> float:
    """Internal energy of the same contents a nudge warmer [J]."""
    if liquid:
        return split(mass, volume, propane.phases(temperature + NUDGE))[1]
    return mass * propane.gas(temperature + NUDGE, mass / volume).energy


def cylinder_rates(
    own: list[float],
    held: Contents,
    around: Surroundings,
    draw: float,
    cylinder: Cylinder,
    propane: Propane,
) -> list[float]:
    """Rates of temperature [K/s], frost [kg/m2s] and mass [kg/s]; ``draw`` is the vapor [kg/s].

    First law: energy of contents and wetted wall changes by the heat, less the enthalpy that
    leaves. Wall that falls dry keeps its temperature.
    """
    temperature, frost, mass = own
    fill = held.liquid_volume / cylinder.volume
    wetted = float(np.interp(fill, cylinder.fills, cylinder.wetted))
    wetted = max(wetted, LEAST_WETTED * cylinder.area)
    contact = float(np.interp(fill, cylinder.fills, cylinder.contact))
    gained, growth = heat_in(
        temperature, frost, wetted, cylinder.area - wetted, contact, around, cylinder.body
    )
    gained += cylinder.heater * min(
        1.0, max(0.0, (cylinder.heater_below - temperature) / HEATER_BAND)
    )
    liquid = held.liquid_volume > 0
    warmer = warmer_energy(temperature, mass, cylinder.volume, liquid, propane)
    capacity = (warmer - held.energy) / NUDGE + cylinder.wall_capacity * wetted
    net = gained - draw * (held.vapor_enthalpy - held.energy_of_mass)
    return [net / capacity, growth, -draw]


def spread(pressures: list[float], part: float) -> list[float]:
    """Draw of the cylinders of one side: equal resistances, no back-flow [shares of all]."""
    feeding = sorted(pressures, reverse=True)
    header = feeding[0] - BAND
    for n in range(2, len(feeding) + 1):
        if feeding[n - 1] > header:
            header = (sum(feeding[:n]) - BAND) / n
    return [part * max(0.0, p - header) / BAND for p in pressures]


def shares(pressures: list[float], side: list[int], changeover: float) -> list[float]:
    """Part of the draw that each cylinder gives: check valves, and a changeover that hands over."""
    both = [[p for p, s in zip(pressures, side, strict=True) if s == which] for which in (0, 1)]
    if both[0] and both[1]:
        lead = max(max(both[0]) - changeover, max(both[0]) - max(both[1]))
        first = min(1.0, max(0.0, lead / BAND))
    else:
        first = 1.0 if both[0] else 0.0
    parts = (first, 1 - first)
    drawn = [iter(spread(both[w], parts[w])) if both[w] else iter(()) for w in (0, 1)]
    return [next(drawn[s]) if s >= 0 else 0.0 for s in side]
