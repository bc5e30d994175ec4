"""Frost on a cold wall: how dense, how well it conducts, how fast it grows and goes.

Frost is one layer of fixed density. The heat and mass that it exchanges with the air are tied by
the Lewis relation; its last hundredth of a kilogram per square meter, which no longer covers the
wall, goes with the share of the wall it still covers.
"""

from math import exp

from coldsoak.physics.air import HEAT_CAPACITY
from coldsoak.physics.compiled import compiled
from coldsoak.physics.moistair import MASS_RATIO

FROST_DENSITY = 200.0
"""[kg/m3]. Hayashi, Aoki, Adachi & Hori (1977), J. Heat Transfer 99:239, give 650 exp(0.277 t)
at a surface of t C: 160 at -5 C and 310 at -2.7 C for hours-old frost in moist rooms; frost that
grows slowly through a night lies between, and falls with colder air."""

FROST_CONDUCTIVITY = 0.02422 + 7.214e-4 * FROST_DENSITY + 1.1797e-6 * FROST_DENSITY**2
"""[W/(m K)], 0.216. Yonko & Sepsy (1967), ASHRAE Trans. 73(2), for frost below 573 kg/m3: their
0.014 + 0.00668 r + 0.0001759 r^2 Btu/(h ft F), r in lb/ft3, in SI (SI constants from memory). Two
later laws give 0.12 and 0.20 for the same density: the layer may insulate more than here."""

COVERING_MASS = 0.01
"""[kg/m2] a layer of 0.05 mm; thinner frost covers only part of the wall. No source: it keeps
the equations smooth where the layer ends, and the tests show that the result hardly moves."""

LEWIS_NUMBER = 0.86
"""Thermal over vapor diffusivity of air: 1.874e-5 / 2.178e-5 m2/s at 0 C, 0.854 at -33 C, from
Lemmon & Jacobsen (2004) and Massman (1998), whose 0.2178 cm2/s is from memory."""

MASS_PER_HEAT: float = MASS_RATIO / (HEAT_CAPACITY * LEWIS_NUMBER ** (2.0 / 3.0))
"""Lewis relation for vapor pressures: flow of vapor [kg/(m2 s)] = this times film coefficient
[W/(m2 K)] times difference of vapor pressure over air pressure (Incropera & DeWitt, ch. 6)."""


@compiled
def frost_resistance(frost: float) -> float:
    """Thermal resistance [m2 K/W] of a frost layer [kg/m2]; none below zero.

    >>> round(frost_resistance(1.0), 4)  # 5 mm
    0.0232
    """
    return max(frost, 0.0) / (FROST_DENSITY * FROST_CONDUCTIVITY)


@compiled
def covered_share(frost: float) -> float:
    """Share of the wall that a frost layer [kg/m2] covers, 0 to 1, for what it can lose."""
    return 1.0 - exp(-max(frost, 0.0) / COVERING_MASS)


@compiled
def vapor_rate(coefficient: float, difference: float, pressure: float) -> float:
    """Water [kg/(m2 s)] that moves to a wall: Lewis relation.

    `coefficient` is that of convection [W/(m2 K)], `difference` the vapor pressure of the air
    less that over the surface [Pa], `pressure` the air's [Pa].

    >>> round(vapor_rate(5.0, 200.0, 101325.0) * 3600, 4)  # kg per m2 and hour
    0.0243
    """
    return MASS_PER_HEAT * coefficient * difference / pressure
