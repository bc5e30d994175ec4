"""How thick LP-gas vapor is: what friction in small pipes and hoses depends on.

Each component's viscosity is a quadratic in temperature, fitted by least squares over 215 to
330 K at 1 kPa to the reference correlations that CoolProp carries (propane Vogel & Herrmann 2016,
n-butane and isobutane Vogel et al. 1999 and 2000, ethane Friend et al. 1991, propylene extended
corresponding states). Between vacuum and saturation at 0 C propane's viscosity changes by 0.6 %,
so pressure is left out. Mixtures follow Wilke (1950, J. Chem. Phys. 18, 517).
"""

import math

import numpy as np

from coldsoak.physics.compiled import compiled
from coldsoak.physics.fuel import MOLAR_MASS, N_COMPONENTS, Vector

_FIT = np.array(
    [
        [-3.821599e-07, 3.581050e-08, -1.083320e-11],
        [7.614587e-08, 2.764930e-08, -1.869098e-12],
        [-4.076662e-07, 3.100651e-08, -3.044546e-12],
        [-2.405231e-07, 2.785038e-08, -6.120232e-12],
        [-2.449156e-07, 2.694438e-08, -4.062458e-12],
    ]
)
# Constant, linear and quadratic coefficient of each of fuel.COMPONENTS [Pa s, K].


@compiled
def component_viscosity(component: int, temperature: float) -> float:
    """Viscosity [Pa s] of one component's thin vapor at a temperature [K], 215 to 330 K.

    Within 0.05 % of the correlations it is fitted to.

    >>> round(component_viscosity(1, 288.7) * 1e6, 2)   # propane at 60 F
    7.9
    """
    a, b, c = _FIT[component, 0], _FIT[component, 1], _FIT[component, 2]
    return a + temperature * (b + temperature * c)


@compiled
def _drag(i: int, j: int, temperature: float) -> float:
    """Wilke's (1950) equation 14: how much component j counts in the way of component i."""
    own, other = component_viscosity(i, temperature), component_viscosity(j, temperature)
    weight = MOLAR_MASS[j] / MOLAR_MASS[i]
    joined = 1.0 + math.sqrt(own / other) * weight**0.25
    return joined * joined / math.sqrt(8.0 * (1.0 + 1.0 / weight))


@compiled
def vapor_viscosity(temperature: float, vapor: Vector) -> float:
    """Viscosity [Pa s] of a vapor of mole fractions `vapor` at a temperature [K], 215 to 330 K.

    Wilke (1950) equation 13; for mixtures of light hydrocarbons within 2 % (Poling, Prausnitz &
    O'Connell 2001, section 9-5-1, from memory).
    """
    total = 0.0
    for i in range(N_COMPONENTS):
        if vapor[i] > 0.0:
            crowd = 0.0
            for j in range(N_COMPONENTS):
                if vapor[j] > 0.0:
                    crowd += vapor[j] * _drag(i, j, temperature)
            total += vapor[i] * component_viscosity(i, temperature) / crowd
    return total
