"""A regulator stage: a diaphragm and a spring that open a seat as the outlet pressure falls.

The outlet falls in proportion to how far the seat is open (droop), a little with the inlet
pressure that helps to push the seat open, and without bound once the seat is wide open. The seat
passes what a nozzle of its area passes. From these few numbers follow the droop with flow, the
droop with inlet pressure, the capacity at every inlet pressure, and the least inlet pressure for a
flow. With no flow the outlet stands at lock-up, above the setting.

An integral two-stage regulator is two such stages one behind the other.
"""

import math
from typing import NamedTuple

from coldsoak.physics.compiled import compiled
from coldsoak.physics.orifice import nozzle_flux
from coldsoak.physics.pipe import Gas, density

HIGHEST_INLET = 250.0 * 6894.757 + 101_325.0
"""Highest absolute inlet pressure [Pa] that is looked at: UL 144 rates the container side of a
regulator at 250 psi."""

_CLOSE = 0.01
# Searches end when the bracket is this narrow [Pa].


class Stage(NamedTuple):
    """One stage.

    `seat` is infinite for a stage that never limits (its inlet effect then counts for nothing) and
    zero for one that is shut.
    """

    setting: float
    """Gauge pressure at the outlet just after it begins to flow [Pa]."""
    droop: float
    """Fall of the outlet until the seat is wide open [Pa]."""
    seat: float
    """Effective area of the wide-open seat [m2]."""
    inlet_effect: float
    """Rise of the outlet per rise of the inlet [Pa/Pa]."""
    reference: float
    """Gauge pressure at the inlet when it was set [Pa]."""


def seat_area(gas: Gas, capacity: float, inlet: float, outlet: float) -> float:
    """Effective area [m2] of a seat that passes `capacity` [kg/s] between absolute pressures [Pa].

    This is how a rated capacity at a rated inlet pressure becomes a seat.
    """
    return capacity / nozzle_flux(density(gas, inlet), inlet, outlet)


@compiled
def _passes(gas: Gas, stage: Stage, station: float, inlet: float, outlet: float) -> float:
    """Flow [kg/s] that a stage passes while its outlet stands at `outlet` [Pa absolute]."""
    lift = stage.setting + stage.inlet_effect * (inlet - station - stage.reference)
    opening = (lift + station - outlet) / stage.droop
    opening = min(max(opening, 0.0), 1.0)
    return opening * stage.seat * nozzle_flux(density(gas, inlet), inlet, outlet)


@compiled
def unloaded_outlet(stage: Stage, station: float, inlet: float) -> float:
    """Absolute pressure [Pa] at the outlet for the smallest flow."""
    lift = stage.setting + stage.inlet_effect * (inlet - station - stage.reference)
    return min(lift + station, inlet)


@compiled
def outlet_pressure(gas: Gas, stage: Stage, station: float, inlet: float, flow: float) -> float:
    """Absolute pressure [Pa] at the outlet for a flow [kg/s]; 0 where it cannot pass it.

    `station` is the pressure of the air outside [Pa]; `inlet` is absolute.
    """
    high = unloaded_outlet(stage, station, inlet)
    if flow <= 0.0 or stage.seat == math.inf:
        return high
    if _passes(gas, stage, station, inlet, 0.0) < flow:
        return 0.0
    low = 0.0
    while high - low > _CLOSE:
        middle = 0.5 * (low + high)
        if _passes(gas, stage, station, inlet, middle) >= flow:
            low = middle
        else:
            high = middle
    return low


@compiled
def least_inlet(gas: Gas, stage: Stage, station: float, outlet: float, flow: float) -> float:
    """Least absolute inlet pressure [Pa] that keeps the outlet at `outlet` [Pa] for a flow [kg/s].

    Infinite where no inlet pressure up to HIGHEST_INLET does.
    """
    high = HIGHEST_INLET
    if unloaded_outlet(stage, station, high) < outlet:
        return math.inf
    if stage.seat == math.inf:
        return outlet
    if _passes(gas, stage, station, high, outlet) < flow:
        return math.inf
    low = outlet
    while high - low > _CLOSE:
        middle = 0.5 * (low + high)
        if _passes(gas, stage, station, middle, outlet) >= flow:
            high = middle
        else:
            low = middle
    return high
