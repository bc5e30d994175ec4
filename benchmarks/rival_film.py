"""Heat from outside into a cylinder, as an engineer would write it from the published equations.

This is the independent word on what `coldsoak.physics.film` does: nothing is shared with it but
the published laws and the model's own choices, which are listed first. Air and propane come from
CoolProp, water vapor from another source, and every balance is solved by scipy's root finder.
"""

from math import copysign, exp, log, sqrt, tanh
from typing import NamedTuple

import numpy as np
from CoolProp.CoolProp import PropsSI
from scipy.optimize import brentq

# The model's own choices, which are no laws. Their reasons stand beside them in coldsoak.physics.
STIR = 0.2
"""Free convection is as if surface and air differed by at least about this [K]."""
FROST_DENSITY = 200.0
"""[kg/m3]"""
FROST_CONDUCTIVITY = 0.216
"""[W/mK], Yonko & Sepsy (1967) for that density."""
COVERING_FROST = 0.01
"""Frost that just covers a wall [kg/m2]: what a thinner layer loses fades exponentially."""
LEWIS_FACTOR: float = 0.86 ** (2 / 3)
"""Lewis number of water vapor in air to the power of the Lewis relation."""

GRAVITY = 9.80665
STEFAN_BOLTZMANN = 5.670374419e-8
FREEZING = 273.15
FUSION = 333.4e3
"""Heat of fusion of ice at 0 C [J/kg], IAPWS R10-06, from memory."""
SUBLIMATION = 2834.4e3
"""Heat of sublimation of ice at 0 C [J/kg], IAPWS, from memory."""
CONDENSATION = 2500.9e3
"""Heat of condensation of water at 0 C [J/kg], IAPWS, from memory; 0.1 % less for each kelvin."""
NUDGE = 0.01
"""Step of a numerical derivative [K]."""
AIR_HEAT_CAPACITY = 1006.0
"""[J/kgK]"""
AIR_GAS_CONSTANT = 8.314462618 / 0.02896546
"""[J/kgK]"""
WATER_OVER_AIR = 18.01528 / 28.96546
"""Molar masses of water and dry air."""


class Surroundings(NamedTuple):
    """Air [K], wind [m/s] at the wall, vapor [Pa], sky [K], mean sun [W/m2], air pressure [Pa]."""

    air: float
    wind: float
    vapor: float
    sky: float
    sun: float
    pressure: float


class Body(NamedTuple):
    """A cylinder's wall: metres, W/mK, shares, and a cover's resistance [m2K/W]."""

    upright: bool
    height: float
    diameter: float
    thickness: float
    conductivity: float
    emissivity: float
    absorptivity: float
    sky_view: float
    cover: float


def cubic(values: list[float], temperatures: list[float]) -> tuple[float, float, float, float]:
    """Least-squares cubic, highest power first: quicker than a call of CoolProp each time."""
    a, b, c, d = (float(v) for v in np.polyfit(temperatures, values, 3))
    return a, b, c, d


def at(curve: tuple[float, float, float, float], temperature: float) -> float:
    """Value of a `cubic` at a temperature [K]."""
    a, b, c, d = curve
    return ((a * temperature + b) * temperature + c) * temperature + d


def turbulent_limit(temperature: float) -> float:
    """C [W/(m2 K^(4/3))] of the film in saturated liquid propane, q = C dT^(4/3).

    Churchill & Chu (1975), vertical plate, for large Rayleigh numbers, where the height drops out.
    """
    k, mu, cp, rho, beta = (
        PropsSI(name, "T", temperature, "Q", 0, "Propane")
        for name in ("conductivity", "viscosity", "C", "D", "isobaric_expansion_coefficient")
    )
    prandtl = mu * cp / k
    factor = 0.387 / (1 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27)
    return float(factor**2 * k * (GRAVITY * beta * rho**2 * cp / (mu * k)) ** (1 / 3))


_RANGE = [float(t) for t in range(195, 326, 5)]
AIR_CONDUCTIVITY = cubic([PropsSI("L", "T", t, "P", 101325, "Air") for t in _RANGE], _RANGE)
AIR_VISCOSITY = cubic([PropsSI("V", "T", t, "P", 101325, "Air") for t in _RANGE], _RANGE)
INSIDE_FILM = cubic([turbulent_limit(t) for t in _RANGE], _RANGE)


def saturation(temperature: float) -> float:
    """Vapor pressure of ice below 0.01 C, of water above [Pa].

    Murphy & Koop (2005), Q. J. R. Meteorol. Soc. 131, 1539, equations 7 and 10.
    """
    t = temperature
    if t < 273.16:
        return exp(9.550426 - 5723.265 / t + 3.53068 * log(t) - 0.00728332 * t)
    wide = 53.878 - 1331.22 / t - 9.44523 * log(t) + 0.014025 * t
    narrow = 54.842763 - 6763.22 / t - 4.210 * log(t) + 0.000367 * t
    return exp(narrow + tanh(0.0415 * (t - 218.8)) * wide)


def free_nusselt(upright: bool, grashof: float, prandtl: float) -> float:
    """Natural convection: Churchill & Chu (1975), plate and horizontal cylinder, any Rayleigh."""
    still, pivot = (0.825, 0.492) if upright else (0.60, 0.559)
    factor: float = (1 + (pivot / prandtl) ** (9 / 16)) ** (8 / 27)
    root: float = still + 0.387 * (grashof * prandtl) ** (1 / 6) / factor
    return root * root


def forced_nusselt(reynolds: float, prandtl: float) -> float:
    """Wind across a cylinder: Churchill & Bernstein (1977)."""
    laminar: float = sqrt(reynolds) * prandtl ** (1 / 3) / (1 + (0.4 / prandtl) ** (2 / 3)) ** 0.25
    turbulent: float = (1 + (reynolds / 282000) ** (5 / 8)) ** (4 / 5)
    return 0.3 + 0.62 * laminar * turbulent


def film_coefficient(surface: float, around: Surroundings, body: Body) -> float:
    """Film coefficient of air on a cylinder [W/m2K], natural and forced blended with exponent 3.

    Properties at the mean temperature of surface and air.
    """
    mean = 0.5 * (surface + around.air)
    k, mu = at(AIR_CONDUCTIVITY, mean), at(AIR_VISCOSITY, mean)
    rho = around.pressure / (AIR_GAS_CONSTANT * mean)
    prandtl = mu * AIR_HEAT_CAPACITY / k
    difference = sqrt((surface - around.air) ** 2 + STIR**2)
    length = body.height if body.upright else body.diameter
    grashof = GRAVITY * difference / mean * length**3 * (rho / mu) ** 2
    natural = free_nusselt(body.upright, grashof, prandtl) * k / length
    reynolds = around.wind * body.diameter * rho / mu
    forced = forced_nusselt(reynolds, prandtl) * k / body.diameter
    blend: float = (natural**3 + forced**3) ** (1 / 3)
    return blend


def dry_gain(surface: float, coefficient: float, around: Surroundings, body: Body) -> float:
    """Heat from air, surroundings, sky and sun onto a surface [W/m2]."""
    radiant = (1 - body.sky_view) * around.air**4 + body.sky_view * around.sky**4 - surface**4
    return (
        coefficient * (around.air - surface)
        + body.emissivity * STEFAN_BOLTZMANN * radiant
        + body.absorptivity * around.sun
    )


def water_gain(surface: float, coefficient: float, covered: float, around: Surroundings) -> float:
    """Vapor that settles on a surface, negative if its frost sublimes [kg/m2s].

    Lewis relation; frost can leave only from the share of the wall that it covers.
    """
    difference = around.vapor - saturation(surface)
    per_heat = WATER_OVER_AIR / (AIR_HEAT_CAPACITY * LEWIS_FACTOR * around.pressure)
    return (1.0 if difference > 0 else covered) * per_heat * coefficient * difference


class Wetted(NamedTuple):
    """What lies between outside and liquid."""

    liquid: float
    """[K]"""
    covered: float
    """Share of the wall under frost."""
    resistance: float
    """Of cover, frost and wall [m2K/W]."""
    film: float
    """C of the film inside [W/(m2 K^(4/3))]."""
    around: Surroundings
    body: Body


class Surface(NamedTuple):
    """Flux inward [W/m2], the part of it from water [W/m2], growth of the frost [kg/m2s]."""

    flux: float
    water: float
    growth: float


def surface_at(flux: float, wetted: Wetted) -> float:
    """Temperature of the outer surface when a flux goes inward [K]."""
    inner = copysign((abs(flux) / wetted.film) ** 0.75, flux)
    return wetted.liquid + wetted.resistance * flux + inner


def gains(surface: float, settling_heat: float, wetted: Wetted) -> tuple[float, float, float]:
    """Dry heat and heat of water onto a surface [W/m2], and water that settles [kg/m2s]."""
    coefficient = film_coefficient(surface, wetted.around, wetted.body)
    water = water_gain(surface, coefficient, wetted.covered, wetted.around)
    heat = water * (settling_heat if water > 0 else SUBLIMATION)
    return dry_gain(surface, coefficient, wetted.around, wetted.body), heat, water


def balanced(settling_heat: float, melting: float, wetted: Wetted) -> float:
    """Flux inward at which the surface takes as much as it passes on and melts [W/m2]."""

    def gap(flux: float) -> float:
        dry, latent, _ = gains(surface_at(flux, wetted), settling_heat, wetted)
        return dry + latent - melting - flux

    most = gap(0.0)
    if most == 0.0:
        return 0.0
    # The surface stays within 100 K of the liquid: far outside, the formulas have no meaning.
    most = copysign(min(abs(most), 100 / wetted.resistance), most)
    return float(brentq(gap, min(most, 0.0), max(most, 0.0), xtol=1e-9))


def settle_surface(wetted: Wetted) -> Surface:
    """Balance of the outer surface of the wetted wall.

    The unknown is the flux inward: it fixes the surface's temperature, and the surface must then
    take just that from outside. A surface that would pass 0 C first melts its frost.
    """
    flux = balanced(SUBLIMATION, 0.0, wetted)
    if surface_at(flux, wetted) > FREEZING:
        return thaw(wetted)
    _, latent, water = gains(surface_at(flux, wetted), SUBLIMATION, wetted)
    return Surface(flux, latent, water)


def thaw(wetted: Wetted) -> Surface:
    """Balance of a surface that reaches 0 C: dew freezes in part, or its surplus melts frost."""
    dry, latent, water = gains(FREEZING, CONDENSATION, wetted)
    at_zero = flux_to(FREEZING, wetted)
    surplus = dry + latent - at_zero
    if surplus <= 0:
        return Surface(at_zero, latent - surplus, -surplus / FUSION)
    melting = wetted.covered * surplus
    flux = balanced(CONDENSATION, melting, wetted)
    _, latent, water = gains(surface_at(flux, wetted), CONDENSATION, wetted)
    return Surface(flux, latent - melting, min(water, 0.0) - melting / FUSION)


def flux_to(surface: float, wetted: Wetted) -> float:
    """Flux inward when the outer surface is at a known temperature [W/m2]."""
    most = (surface - wetted.liquid) / wetted.resistance
    if most == 0.0:
        return 0.0
    low, high = min(most, 0.0), max(most, 0.0)
    return float(brentq(lambda q: surface_at(q, wetted) - surface, low, high, xtol=1e-9))


def wetted_wall(liquid: float, frost: float, around: Surroundings, body: Body) -> Wetted:
    """The wetted wall under a frost layer [kg/m2], with its liquid at a temperature [K]."""
    layer = max(frost, 0.0) / (FROST_DENSITY * FROST_CONDUCTIVITY)
    return Wetted(
        liquid,
        1 - exp(-max(frost, 0.0) / COVERING_FROST),
        body.cover + layer + body.thickness / body.conductivity,
        at(INSIDE_FILM, liquid),
        around,
        body,
    )


def fin_heat(
    liquid: float, dry_area: float, contact: float, around: Surroundings, body: Body
) -> float:
    """Heat that the dry wall conducts down into the liquid [W].

    A fin of length dry_area / contact with an insulated end, in surroundings linearized at the
    liquid's temperature (Incropera & DeWitt, table 3.4, case B).
    """
    if contact <= 0:
        return 0.0
    here, warmer = (
        dry_gain(t, film_coefficient(t, around, body), around, body)
        for t in (liquid, liquid + NUDGE)
    )
    conductance = (here - warmer) / NUDGE
    under_cover = 1 / (1 + conductance * body.cover)
    m = sqrt(conductance * under_cover / (body.conductivity * body.thickness))
    return here * under_cover * contact * tanh(m * dry_area / contact) / m


def heat_in(
    liquid: float,
    frost: float,
    wetted: float,
    dry_area: float,
    contact: float,
    around: Surroundings,
    body: Body,
) -> tuple[float, float]:
    """Heat into the liquid through wetted and dry wall [W], and growth of the frost [kg/m2s]."""
    surface = settle_surface(wetted_wall(liquid, frost, around, body))
    fin = fin_heat(liquid, dry_area, contact, around, body)
    return wetted * surface.flux + fin, surface.growth
