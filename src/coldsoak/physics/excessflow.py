"""An excess-flow connector: closes above one flow, then passes only a small bypass flow.

A ball or disc is held open by a spring and pulled shut by the drag of the gas, which is
proportional to flow^2 / density. A connector that is rated warm therefore trips at a smaller mass
flow in the cold, when the cylinder's vapor is thin. Once shut, the full pressure holds it shut:
it opens again only after the outlet is closed and the bypass has equalized the pressure.
"""

import math

from coldsoak.physics.compiled import compiled
from coldsoak.physics.orifice import nozzle_flux
from coldsoak.physics.pipe import Gas, density

RATED_PRESSURE = 92.0 * 6894.757 + 101_325.0
"""Absolute pressure [Pa] at which trip and bypass flow are taken as stated: that of pure propane
at 60 F, 92 psi gauge (common practice, no source)."""


def trip_strength(gas: Gas, rated: float) -> float:
    """Trip flow over the root of density [kg/s (m3/kg)^0.5] from a rated trip flow [kg/s]."""
    return rated / math.sqrt(density(gas, RATED_PRESSURE))


@compiled
def trip_flow(gas: Gas, strength: float, pressure: float) -> float:
    """Flow [kg/s] that closes the connector at an absolute pressure [Pa]."""
    return strength * math.sqrt(density(gas, pressure))


@compiled
def bypass_flow(gas: Gas, area: float, pressure: float, outlet: float) -> float:
    """Flow [kg/s] that a shut connector still passes between two absolute pressures [Pa]."""
    return area * nozzle_flux(density(gas, pressure), pressure, outlet)


def bypass_area(gas: Gas, rated: float) -> float:
    """Area [m2] of a bypass that passes `rated` [kg/s] from RATED_PRESSURE to the open air."""
    return rated / nozzle_flux(density(gas, RATED_PRESSURE), RATED_PRESSURE, 101_325.0)
