"""Dry air near one atmosphere: what the convection formulas need of it.

The polynomials are least-squares fits over 190 to 340 K at 101,325 Pa to the reference equations
for air, Lemmon & Jacobsen (2004) for conductivity and viscosity and Lemmon, Jacobsen, Penoncello
& Friend (2000) for heat capacity; the tests compare them with the originals. Conductivity and
viscosity hardly depend on pressure between 60 and 110 kPa (less than 0.15 %). Beyond the range
they stay positive and finite.
"""

from coldsoak.physics.compiled import compiled

GAS_CONSTANT = 8.314462618
"""[J/(mol K)], CODATA 2018."""

MOLAR_MASS = 0.02896546
"""[kg/mol], dry air, Lemmon et al. (2000)."""

HEAT_CAPACITY = 1006.0
"""[J/(kg K)]; 1005.5 to 1008.5 between 190 and 340 K."""


@compiled
def conductivity(temperature: float) -> float:
    """Thermal conductivity [W/(m K)] at a temperature [K]; fit within 0.01 %.

    >>> round(conductivity(273.15), 5)
    0.02436
    """
    t = temperature
    return -1.01289984e-3 + t * (1.13480799e-4 + t * (-9.08278689e-8 + t * 5.65738184e-11))


@compiled
def viscosity(temperature: float) -> float:
    """Dynamic viscosity [Pa s] at a temperature [K]; fit within 0.01 %.

    >>> round(viscosity(273.15) * 1e6, 2)
    17.22
    """
    t = temperature
    return -3.1363214e-7 + t * (8.21102511e-8 + t * (-7.96234647e-11 + t * 5.12535106e-14))


@compiled
def density(temperature: float, pressure: float) -> float:
    """Density [kg/m3] at a temperature [K] and pressure [Pa]: ideal gas, within 0.3 %."""
    return pressure * MOLAR_MASS / (GAS_CONSTANT * temperature)


@compiled
def prandtl(temperature: float) -> float:
    """Prandtl number at a temperature [K], from the fits with a constant heat capacity."""
    return viscosity(temperature) * HEAT_CAPACITY / conductivity(temperature)
