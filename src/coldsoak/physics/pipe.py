"""Pressure lost by gas in a round pipe, tube or hose: Darcy's law with real-gas density.

The flow is isothermal: a line has the temperature of what is around it. All pressures are
absolute. A resistance stands for what loses pressure without length, such as a quick-connect:
the pressure it takes is resistance * flow^2 / (2 density).
"""

import math
from typing import NamedTuple

from coldsoak.physics.combustion import gross_heating_value
from coldsoak.physics.compiled import compiled
from coldsoak.physics.fuel import GAS_CONSTANT, Vector, molar_mass, vapor_density
from coldsoak.physics.viscosity import vapor_viscosity

_ITERATIONS = 60
_CLOSE = 1e-4
# Iterations end when the pressure moves by less than this [Pa].


class Gas(NamedTuple):
    """A vapor at one temperature: all that flow in lines needs to know of it."""

    ideal: float
    """Density over pressure of the thin gas [kg/(m3 Pa)]."""
    second: float
    """First coefficient of 1/Z - 1 in pressure [1/Pa]."""
    third: float
    """Second coefficient of 1/Z - 1 in pressure [1/Pa2]."""
    viscosity: float
    """[Pa s]"""
    heat: float
    """Gross heat of burning it [J/kg]."""


class Pipe(NamedTuple):
    """A round line; `length` includes the equivalent length of its fittings."""

    length: float
    """[m]"""
    diameter: float
    """Inside [m]."""
    roughness: float
    """Height of the wall's roughness [m]."""
    least_friction: float
    """Friction factor of fully rough flow where the wall is corrugated; else 0."""
    resistance: float
    """Of what has no length [1/m4]."""


def gas_at(temperature: float, vapor: Vector) -> Gas:
    """The gas of mole fractions `vapor` at a temperature [K].

    The two coefficients repeat fuel.vapor_density exactly: its 1/Z is a quadratic in pressure.

    >>> import numpy as np
    >>> gas = gas_at(288.7, np.array([0.0, 1.0, 0.0, 0.0, 0.0]))
    >>> round(density(gas, 101_325.0), 3)   # propane at 60 F
    1.896
    """
    low, high = 1e5, 2e5
    thin = molar_mass(vapor) / (GAS_CONSTANT * temperature)
    above = [vapor_density(temperature, p, vapor) / (thin * p) - 1.0 for p in (low, high)]
    third = (above[1] / high - above[0] / low) / (high - low)
    second = above[0] / low - third * low
    heat = gross_heating_value(vapor)
    return Gas(thin, second, third, vapor_viscosity(temperature, vapor), heat)


@compiled
def density(gas: Gas, pressure: float) -> float:
    """Density [kg/m3] of the gas at a pressure [Pa]."""
    return gas.ideal * pressure * (1.0 + pressure * (gas.second + pressure * gas.third))


@compiled
def pressure_of_density(gas: Gas, wanted: float) -> float:
    """Pressure [Pa] at which the gas has a density [kg/m3], within 0.1 Pa."""
    pressure = wanted / gas.ideal
    for _ in range(_ITERATIONS):
        last = pressure
        pressure = wanted / (gas.ideal * (1.0 + last * (gas.second + last * gas.third)))
        if abs(pressure - last) < _CLOSE:
            break
    return pressure


@compiled
def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Darcy's friction factor from laminar to fully rough flow, smooth in between.

    Churchill (1977, Chem. Eng. 84(24), 91): 64/Re below Re 2,000 and within 2 % of Colebrook's
    equation above 4,000 for relative roughness up to 0.05. Any positive Reynolds number.

    >>> round(friction_factor(1_000.0, 0.0), 4), round(friction_factor(100_000.0, 0.0), 4)
    (0.064, 0.0179)
    """
    rough = (7.0 / reynolds) ** 0.9 + 0.27 * relative_roughness
    a = (-2.457 * math.log(rough)) ** 16
    b = (37_530.0 / reynolds) ** 16
    return 8.0 * ((8.0 / reynolds) ** 12 + (a + b) ** -1.5) ** (1.0 / 12.0)


@compiled
def area(pipe: Pipe) -> float:
    """Open cross-section [m2]."""
    return 0.25 * math.pi * pipe.diameter * pipe.diameter


@compiled
def loss_factor(gas: Gas, pipe: Pipe, flow: float) -> float:
    """Friction and resistance [1/m4] at a flow [kg/s]: pressure lost x 2 density / flow^2."""
    if pipe.length <= 0.0:
        return pipe.resistance
    reynolds = 4.0 * flow / (math.pi * pipe.diameter * gas.viscosity)
    friction = friction_factor(reynolds, pipe.roughness / pipe.diameter)
    friction = max(friction, pipe.least_friction)
    return friction * pipe.length / pipe.diameter / area(pipe) ** 2 + pipe.resistance


@compiled
def _rise(gas: Gas, pipe: Pipe, flow: float, loss: float, start: float, end: float) -> float:
    """P1^2 - P2^2 [Pa2] of isothermal flow between two pressures [Pa].

    Shapiro (1953, The Dynamics and Thermodynamics of Compressible Fluid Flow, ch. 6): friction,
    and the speeding up of gas that expands, with the compressibility of the mean pressure.
    """
    mean = 0.5 * (start + end)
    speeding = 2.0 * math.log(start / end) / area(pipe) ** 2 if pipe.length > 0.0 else 0.0
    return flow * flow * mean / density(gas, mean) * (loss + speeding)


@compiled
def start_pressure(gas: Gas, pipe: Pipe, flow: float, end: float) -> float:
    """Pressure [Pa] needed at the start of a pipe for a flow [kg/s] and a pressure [Pa] at its end.

    Fixed point, within 1e-3 Pa while the gas is much slower than sound.
    """
    if flow <= 0.0:
        return end
    loss = loss_factor(gas, pipe, flow)
    start = end
    for _ in range(_ITERATIONS):
        last = start
        start = math.sqrt(end * end + _rise(gas, pipe, flow, loss, last, end))
        if abs(start - last) < _CLOSE:
            break
    return start


@compiled
def end_pressure(gas: Gas, pipe: Pipe, flow: float, start: float) -> float:
    """Pressure [Pa] left at the end of a pipe; 0 where the pipe cannot pass the flow [kg/s]."""
    if flow <= 0.0 or start <= 0.0:
        return max(start, 0.0)
    loss = loss_factor(gas, pipe, flow)
    end = start
    for _ in range(_ITERATIONS):
        last = end
        left = start * start - _rise(gas, pipe, flow, loss, start, last)
        if left <= 0.0:
            return 0.0
        end = math.sqrt(left)
        if abs(end - last) < _CLOSE:
            return end
    return 0.0
