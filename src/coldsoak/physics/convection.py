"""Heat transfer from air to a cylinder: free and forced convection as Nusselt numbers.

No law is less certain in the whole program: eleven published correlations of free convection,
as the `ht` library collects them, give 1.9 to 11 W/(m2 K) for one upright 20-lb cylinder 10 K
colder than still air. The three below are the most widely used that cover laminar and turbulent
flow in one smooth formula, and lie near the middle; whoever plans on them should carry the film
as an uncertainty.

All numbers use properties at the film temperature, the mean of surface and air.
"""

from math import sqrt

from numpy import cbrt

from coldsoak.physics.compiled import compiled

GRAVITY = 9.80665
"""[m/s2], standard."""

UPRIGHT_STILL = 0.825
"""Square root of the Nusselt number that is left without any motion, upright plate."""

HORIZONTAL_STILL = 0.60
"""The same for a horizontal cylinder."""


@compiled
def free_factor(prandtl: float, pivot: float) -> float:
    """Prandtl factor 0.387 / [1 + (pivot/Pr)^(9/16)]^(8/27) of Churchill & Chu (1975)."""
    return 0.387 / float((1.0 + (pivot / prandtl) ** 0.5625) ** (8.0 / 27.0))


@compiled
def wind_factor(prandtl: float) -> float:
    """Prandtl factor 0.62 Pr^(1/3) / [1 + (0.4/Pr)^(2/3)]^(1/4) of Churchill & Bernstein."""
    return 0.62 * float(cbrt(prandtl)) / sqrt(sqrt(1.0 + (0.4 / prandtl) ** (2.0 / 3.0)))


@compiled
def free_nusselt(still: float, factor: float, rayleigh: float) -> tuple[float, float]:
    """Form of both laws of Churchill & Chu (1975): Nu = (still + factor Ra^(1/6))^2.

    Also its logarithmic derivative, d ln Nu / d ln Ra.
    """
    moving = factor * float(rayleigh ** (1.0 / 6.0))
    root = still + moving
    return root * root, moving / (3.0 * root)


@compiled
def wind_nusselt(factor: float, reynolds: float) -> float:
    """Form of Churchill & Bernstein (1977) with a given Prandtl factor."""
    root = sqrt(reynolds / 282e3)
    turbulent = float((1.0 + root * sqrt(sqrt(root))) ** 0.8)
    return 0.3 + factor * sqrt(282e3) * root * turbulent


@compiled
def upright_nusselt(rayleigh: float, prandtl: float) -> float:
    """Nusselt number of free convection on an upright wall, length = its height.

    Churchill & Chu (1975), Int. J. Heat Mass Transfer 18:1323, eq. 9: isothermal vertical plate,
    Ra up to 1e12. It holds for an upright cylinder with D/H >= 35 / Gr^(1/4); thinner ones take
    up somewhat more.

    >>> round(upright_nusselt(1e9, 0.71), 1)
    122.9
    """
    return free_nusselt(UPRIGHT_STILL, free_factor(prandtl, 0.492), rayleigh)[0]


@compiled
def horizontal_nusselt(rayleigh: float, prandtl: float) -> float:
    """Nusselt number of free convection around a horizontal cylinder, length = its diameter.

    Churchill & Chu (1975), Int. J. Heat Mass Transfer 18:1049: isothermal, Ra 1e-5 to 1e12.

    >>> round(horizontal_nusselt(1e7, 0.71), 1)
    28.3
    """
    return free_nusselt(HORIZONTAL_STILL, free_factor(prandtl, 0.559), rayleigh)[0]


@compiled
def crossflow_nusselt(reynolds: float, prandtl: float) -> float:
    """Nusselt number of a wind across a cylinder, length = its diameter.

    Churchill & Bernstein (1977), J. Heat Transfer 99:300, eq. 9: Re Pr > 0.2, any wind that
    occurs at a cylinder; said there to be near the lower edge of the measurements.

    >>> round(crossflow_nusselt(6071.0, 0.7), 2)
    40.64
    """
    return wind_nusselt(wind_factor(prandtl), reynolds)
