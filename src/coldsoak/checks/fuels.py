"""The fuels that are compared, as mole fractions in the order of the physics."""

from collections.abc import Mapping

import numpy as np

from coldsoak.physics.fuel import COMPONENTS, N_COMPONENTS, Vector, bubble_pressure
from coldsoak.rig.fuel import grades


def mixture(shares: Mapping[str, float]) -> Vector:
    """Mole fractions of a mixture given by its components' names.

    >>> mixture({"propane": 3.0, "n-butane": 1.0})
    array([0.  , 0.75, 0.  , 0.  , 0.25])
    """
    parts = np.array([shares.get(name, 0.0) for name in COMPONENTS])
    return parts / parts.sum()


PROPANE = mixture({"propane": 1.0})
N_BUTANE = mixture({"n-butane": 1.0})


def typical(grade: str) -> Vector:
    """What a grade of the catalogue typically holds."""
    return mixture(grades()[grade]["typical"])


def worst(grade: str) -> Vector:
    """The composition of a grade that plans use."""
    return mixture(grades()[grade]["worst"])


def pressure(temperature: float, liquid: Vector) -> float:
    """Absolute pressure [Pa] over a boiling liquid at a temperature [K]."""
    return float(bubble_pressure(temperature, liquid, np.empty(N_COMPONENTS)))
