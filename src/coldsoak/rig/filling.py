"""How much fuel a container may hold: by weight and by volume, the lower decides.

By weight: filling density times the mass of water that fills the container. By volume: liquid at
most 80 % of the space at 40 degF (4.4 degC), where the codes set the fixed level gauge (NFPA 58).
A container that is sold with a stated fill is filled on a scale: its fill stands where it keeps
the rule by weight, to the rounding of printed water capacities.
"""

from typing import NamedTuple

import numpy as np

from coldsoak.rig.catalogue import default, filling_densities
from coldsoak.rig.trip import Fractions, Fuel
from coldsoak.rig.units import parse

WATER_AT_60F = 999.04
"""Density of water at 60 degF [kg/m3], from memory (0.99904 g/cm3)."""
LEVEL_TEMPERATURE = 288.15
"""Temperature for which people state a fill, 15 degC [K]."""
SIXTY_F = 288.70555555555556
"""Temperature of the filling density table's specific gravity [K]."""
GAUGE_TEMPERATURE = 277.59444444444443
"""40 degF, where the codes set the fixed level gauge [K]."""


class Limits(NamedTuple):
    """Most fuel by weight, by volume, by a level read at 15 degC, and all that fits then [kg]."""

    by_weight: float
    by_volume: float
    by_level: float
    liquid_full: float


def liquid_density(temperature: float, liquid: Fractions) -> float:
    """Density of the boiling liquid [kg/m3] at a temperature [K].

    >>> round(liquid_density(288.15, (0.0, 1.0, 0.0, 0.0, 0.0)))
    507
    """
    from coldsoak.physics import fuel

    return float(fuel.liquid_density(temperature, np.array(liquid, dtype=np.float64)))


def lightest(fuel: Fuel) -> Fractions:
    """The lighter of the typical and the worst liquid: the one of which less may be filled."""
    return min(
        (fuel.typical, fuel.worst), key=lambda liquid: liquid_density(LEVEL_TEMPERATURE, liquid)
    )


def filling_density(specific_gravity: float) -> float:
    """Mass of fuel over mass of water, by specific gravity at 60 degF (49 CFR / NFPA 58 table).

    Lighter or heavier than the table takes its first or last row.

    >>> filling_density(0.508), filling_density(0.4), filling_density(0.9)
    (0.42, 0.38, 0.57)
    """
    rows = filling_densities()
    gravity = round(specific_gravity, 3)
    return next((density for upper, density in rows if gravity <= upper), rows[-1][1])


def limits(water_capacity: float, fuel: Fuel) -> Limits:
    """The limits of a container of a water capacity [m3] for a fuel."""
    liquid = lightest(fuel)
    gravity = liquid_density(SIXTY_F, liquid) / WATER_AT_60F
    share = parse(str(default("filling.volume_limit").value), "share")
    return Limits(
        by_weight=filling_density(gravity) * WATER_AT_60F * water_capacity,
        by_level=share * liquid_density(LEVEL_TEMPERATURE, liquid) * water_capacity,
        by_volume=share * liquid_density(GAUGE_TEMPERATURE, liquid) * water_capacity,
        liquid_full=liquid_density(LEVEL_TEMPERATURE, liquid) * water_capacity,
    )


def limit(found: Limits, marked_fill: float | None) -> float:
    """Most fuel that may be in it [kg].

    The lower of both limits, or a higher marked fill [kg] that keeps the one by weight.

    >>> limit(Limits(9.05, 9.02, 8.7, 10.9), 9.07), limit(Limits(9.05, 9.02, 8.7, 10.9), 11)
    (9.07, 9.02)
    """
    lower = min(found.by_weight, found.by_volume)
    most = found.by_weight * (1.0 + float(default("filling.mark_tolerance").value))
    if marked_fill is not None and lower < marked_fill <= most:
        return marked_fill
    return lower


def rule(found: Limits, most: float) -> str:
    """Which rule sets a limit, in words."""
    if most not in (found.by_weight, found.by_volume):
        return "the fill it is sold with"
    return (
        "filling density, by weight" if most == found.by_weight else "80 % of its volume at 40 degF"
    )
