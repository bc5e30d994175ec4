"""What cannot boil: the part of a blend that stays behind in the cold."""

import numpy as np

from coldsoak.night.records import Floats
from coldsoak.physics.compiled import compiled
from coldsoak.physics.fuel import MOLAR_MASS, N_COMPONENTS, bubble_pressure

CUTS = 400
"""Equal cuts of the contents in which the vapor is taken off."""


@compiled
def residue(temperature: float, least_pressure: float, moles: Floats) -> float:
    """Mass that stays when vapor is drawn at a steady temperature until the pressure fails [kg].

    Rayleigh distillation in small cuts: what is drawn has the vapor's composition, so the rest
    grows heavier until its bubble pressure is below ``least_pressure``.

    Parameters
    ----------
    temperature : float
        Temperature of the air, and so of a liquid that is drawn slowly [K].
    least_pressure : float
        Absolute pressure that the regulator needs [Pa].
    moles : float64[k]
        Contents [mol].

    References
    ----------
    Rayleigh (1902), On the distillation of binary mixtures, Phil. Mag. 4, 521-537.
    """
    left = moles.copy()
    vapor = np.zeros(N_COMPONENTS)
    cut = moles.sum() / CUTS
    for _ in range(CUTS):
        total = left.sum()
        if total < 1.5 * cut:
            return 0.0
        if bubble_pressure(temperature, left / total, vapor) < least_pressure:
            return float((left * MOLAR_MASS).sum())
        for k in range(N_COMPONENTS):
            left[k] = max(0.0, left[k] - cut * vapor[k])
    return 0.0
