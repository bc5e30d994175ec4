"""Heat from outside through the wetted wall into the liquid: the balance of the outer surface.

The surface takes heat from the air (free convection and wind, blended with exponent 3), from
surroundings and sky by radiation, from the sun, and from the vapor that becomes dew or frost on
it; it passes the sum inward through cover, frost, wall and the liquid's own film. Its temperature
is where both agree:

    h (Ta - Ts) + e s [(1 - v) Ta^4 + v Tsky^4 - Ts^4] + a G + latent - melting = q,
    Ts - Tl = q (cover + frost + wall) + (q / C)^(3/4).

The left side falls and the right side rises with Ts, so there is one root, and it lies between
no flux and the flux that a surface at liquid temperature would take: Newton's rule inside that
bracket cannot fail. Below 0 C vapor settles as frost when the surface is under the frost point
and frost sublimes when the air is drier; above 0 C dew gives its heat and runs off. A frosted
surface does not pass 0 C: the surplus melts the frost, and all losses of a vanishing layer fade
with the share of the wall that it still covers.

The film of the outside is the largest unknown of the whole program (see `convection`); everything
here should be read as within some tens of per cent. Left out: the change of emissivity and of
absorptivity by frost, rain and snow, the wind along a horizontal cylinder, the ground's own
temperature, heat stored in the frost.
"""

from math import sqrt, tanh
from typing import NamedTuple

from numpy import cbrt

from coldsoak.physics import air as dry_air
from coldsoak.physics.compiled import compiled
from coldsoak.physics.convection import (
    GRAVITY,
    crossflow_nusselt,
    horizontal_nusselt,
    upright_nusselt,
)
from coldsoak.physics.frost import covered_share, frost_resistance, vapor_rate
from coldsoak.physics.moistair import FUSION_HEAT, SUBLIMATION_HEAT, saturation, vaporization_heat

STEFAN_BOLTZMANN = 5.670374419e-8
"""[W/(m2 K4)], CODATA 2018."""

FREEZING = 273.15
"""[K]"""


class Outside(NamedTuple):
    """What surrounds a cylinder. Give floats throughout."""

    air: float
    """[K]"""
    wind: float
    """[m/s] at the wall."""
    vapor_pressure: float
    """Of water in the air [Pa]."""
    sky: float
    """Effective temperature of the sky [K]."""
    sun: float
    """Irradiance averaged over the whole surface [W/m2]."""
    pressure: float
    """Of the air at the place [Pa]."""


class Wall(NamedTuple):
    """What a cylinder shows to it. Give floats throughout."""

    upright: bool
    height: float
    """[m], length of an upright surface."""
    diameter: float
    """[m]"""
    thickness: float
    """[m]"""
    conductivity: float
    """[W/(m K)]"""
    emissivity: float
    absorptivity: float
    """For the sun."""
    sky_view: float
    """Share of the surroundings that is sky; the rest is at air temperature."""
    cover: float
    """Resistance of a cover, locker or blanket between outer surface and wall [m2 K/W]."""


class WallHeat(NamedTuple):
    """Heat through the wetted wall and what goes with it."""

    flux: float
    """[W/m2] into the liquid, everything included."""
    frost_flux: float
    """[W/m2] the part of it from dew, frost, sublimation and melting, signed."""
    frost_rate: float
    """[kg/(m2 s)] growth of the frost layer."""
    surface: float
    """[K] of the outer surface."""
    bare_flux: float
    """[W/m2] that a dry wall at liquid temperature takes, through the cover if there is one."""
    bare_conductance: float
    """[W/(m2 K)] by which bare_flux falls for each kelvin that the wall is warmer."""


@compiled
def free_upright(surface: float, air: float, height: float, pressure: float) -> float:
    """Free convection [W/(m2 K)] on an upright wall of `height` [m]; temperatures [K], air [Pa].

    >>> round(free_upright(253.15, 263.15, 0.45, 101325.0), 2)
    3.36
    """
    mean = 0.5 * (surface + air)
    nu = dry_air.viscosity(mean) / dry_air.density(mean, pressure)
    pr = dry_air.prandtl(mean)
    rayleigh = GRAVITY * abs(air - surface) / mean * height**3 * pr / nu**2
    return upright_nusselt(rayleigh, pr) * dry_air.conductivity(mean) / height


@compiled
def free_horizontal(surface: float, air: float, diameter: float, pressure: float) -> float:
    """Free convection [W/(m2 K)] around a horizontal cylinder of `diameter` [m], as above.

    >>> round(free_horizontal(253.15, 263.15, 0.30, 101325.0), 2)
    3.29
    """
    mean = 0.5 * (surface + air)
    nu = dry_air.viscosity(mean) / dry_air.density(mean, pressure)
    pr = dry_air.prandtl(mean)
    rayleigh = GRAVITY * abs(air - surface) / mean * diameter**3 * pr / nu**2
    return horizontal_nusselt(rayleigh, pr) * dry_air.conductivity(mean) / diameter


@compiled
def forced(surface: float, air: float, wind: float, diameter: float, pressure: float) -> float:
    """Wind [m/s] across a cylinder of `diameter` [m]: film coefficient [W/(m2 K)].

    >>> round(forced(253.15, 263.15, 5.0, 0.30, 101325.0), 1)
    18.9
    """
    mean = 0.5 * (surface + air)
    nu = dry_air.viscosity(mean) / dry_air.density(mean, pressure)
    nusselt = crossflow_nusselt(wind * diameter / nu, dry_air.prandtl(mean))
    return nusselt * dry_air.conductivity(mean) / diameter


@compiled
def convection(surface: float, outside: Outside, wall: Wall) -> tuple[float, float]:
    """Film coefficient [W/(m2 K)], and how fast its heat falls with the surface's temperature.

    Free and forced are blended as (free^3 + forced^3)^(1/3) (Churchill 1977, AIChE J. 23:10).
    The second value is -d[h (Ta - Ts)]/dTs [W/(m2 K)] at constant air properties, for Newton's
    rule: free convection goes with Ra^m, m = 1/3 (1 - Nu0 / Nu)^..., from its own formula.
    """
    if wall.upright:
        free = free_upright(surface, outside.air, wall.height, outside.pressure)
        still, length = 0.825, wall.height
    else:
        free = free_horizontal(surface, outside.air, wall.diameter, outside.pressure)
        still, length = 0.60, wall.diameter
    wind = forced(surface, outside.air, outside.wind, wall.diameter, outside.pressure)
    blend = cbrt(free**3 + wind**3)
    nusselt = free * length / dry_air.conductivity(0.5 * (surface + outside.air))
    power = (1.0 - still / sqrt(nusselt)) / 3.0
    return blend, blend * (1.0 + power * (free / blend) ** 3)


@compiled
def dry_flux(surface: float, outside: Outside, wall: Wall) -> tuple[float, float, float]:
    """Heat [W/m2] that a dry surface [K] takes from air, surroundings, sky and sun.

    Also its fall with the surface's temperature and the film coefficient, both [W/(m2 K)].
    """
    coefficient, slope = convection(surface, outside, wall)
    grey = wall.emissivity * STEFAN_BOLTZMANN
    around = (1.0 - wall.sky_view) * outside.air**4 + wall.sky_view * outside.sky**4
    flux = (
        coefficient * (outside.air - surface)
        + grey * (around - surface**4)
        + wall.absorptivity * outside.sun
    )
    return flux, slope + 4.0 * grey * surface**3, coefficient


class Intake(NamedTuple):
    """Heat and water that a surface takes from outside."""

    flux: float
    """[W/m2], latent heat included."""
    slope: float
    """[W/(m2 K)] by which it falls as the surface warms."""
    latent: float
    """[W/m2]"""
    water: float
    """[kg/(m2 s)] settling, or leaving the frost if negative."""


@compiled
def intake(
    surface: float, settling_heat: float, covered: float, outside: Outside, wall: Wall
) -> Intake:
    """Heat and water that a surface [K] takes, frost covering a share `covered` of it.

    Vapor that settles gives `settling_heat` [J/kg] (frost or dew, as the caller knows); frost
    that sublimes costs the heat of sublimation.
    """
    flux, slope, coefficient = dry_flux(surface, outside, wall)
    over_surface, rise = saturation(surface)
    difference = outside.vapor_pressure - over_surface
    share, heat = (1.0, settling_heat) if difference > 0.0 else (covered, SUBLIMATION_HEAT)
    water = share * vapor_rate(coefficient, difference, outside.pressure)
    steep = share * heat * vapor_rate(coefficient, rise, outside.pressure)
    return Intake(flux + heat * water, slope + steep, heat * water, water)


@compiled
def inside_film(liquid: float) -> float:
    """C [W/(m2 K^(4/3))] of the film inside, q = C dT^(4/3), for LP-gas at `liquid` [K].

    Turbulent limit of Churchill & Chu (1975), Nu = [0.387 / F(Pr)]^2 Ra^(1/3), with saturated
    propane's properties (CoolProp 8); a line within 2 % between 213 and 303 K. It assumes a wall
    warmer than the liquid by some tenths of a kelvin; boiling at the wall would only make this
    small resistance smaller.
    """
    return 145.8 + 0.25 * (liquid - 273.15)


@compiled
def inside_difference(total: float, resistance: float, film: float) -> float:
    """Part [K] of a temperature difference `total` [K] that lies in the liquid's film.

    Root d of d + resistance film d^(4/3) = total by Newton's rule; the start lies on the near
    side of a convex curve, so it converges from any value.
    """
    size = abs(total)
    d = size / (1.0 + resistance * film * cbrt(size))
    for _ in range(8):
        root = cbrt(d)
        rest = size - d * (1.0 + resistance * film * root)
        d += rest / (1.0 + 4.0 / 3.0 * resistance * film * root)
    return d if total > 0.0 else -d


class Balance(NamedTuple):
    """A settled surface."""

    difference: float
    """Between inner wall and liquid [K]."""
    flux: float
    """[W/m2] inward."""
    surface: float
    """[K]"""
    latent: float
    """[W/m2]"""
    water: float
    """[kg/(m2 s)]"""


@compiled
def balance(
    start: float,
    low: float,
    high: float,
    sink: float,
    settling_heat: float,
    covered: float,
    resistance: float,
    liquid: float,
    outside: Outside,
    wall: Wall,
) -> Balance:
    """Surface at which the heat taken, less `sink` [W/m2], is the heat conducted inward.

    The unknown is the difference [K] between inner wall and liquid, in (low, high), at first
    `start`. Newton's rule, halving the bracket where it would leave it; it stops once the surface
    moves by less than 1e-4 K, which leaves an error below 1e-5 K.
    """
    film = inside_film(liquid)
    d = start
    for _ in range(60):
        root = cbrt(abs(d))
        conducted, gain = film * d * root, 4.0 / 3.0 * film * root
        lift = 1.0 + resistance * gain
        taken = intake(liquid + d + resistance * conducted, settling_heat, covered, outside, wall)
        gap = taken.flux - sink - conducted
        low, high = (d, high) if gap > 0.0 else (low, d)
        new = d + gap / (gain + taken.slope * lift)
        new = new if low < new < high else 0.5 * (low + high)
        moved = abs(new - d) * lift
        d = new
        if moved < 1e-4:
            break
    conducted = film * d * cbrt(abs(d))
    surface = liquid + d + resistance * conducted
    return Balance(d, conducted, surface, taken.latent, taken.water)


@compiled
def first_guess(taken: Intake, resistance: float, film: float) -> float:
    """Difference [K] between inner wall and liquid if the outside were linear around `taken`."""
    size = abs(taken.flux) + 1e-12
    through = size / (1.0 + taken.slope * resistance)
    inner = 1.0 / sqrt(film * sqrt(film * through))
    through = size / (1.0 + taken.slope * (resistance + inner))
    d = sqrt(through / film * sqrt(through / film))
    return d if taken.flux > 0.0 else -d


@compiled
def wall_heat(liquid_temperature: float, frost: float, outside: Outside, wall: Wall) -> WallHeat:
    """Heat through the wetted wall of a cylinder whose liquid is at a temperature [K].

    `frost` [kg/m2] is the layer on it, none below zero. Range: 200 to 330 K, wind 0 to 40 m/s,
    frost 0 to 5 kg/m2, cover 0 to 1 m2 K/W; beyond, the formulas extrapolate and stay finite.
    """
    covered, film = covered_share(frost), inside_film(liquid_temperature)
    resistance = wall.cover + frost_resistance(frost) + wall.thickness / wall.conductivity
    bare, slope, _ = dry_flux(liquid_temperature, outside, wall)
    through_cover = 1.0 / (1.0 + slope * wall.cover)
    taken = intake(liquid_temperature, SUBLIMATION_HEAT, covered, outside, wall)
    limit = sqrt(abs(taken.flux) / film * sqrt(abs(taken.flux) / film))
    cold = balance(
        first_guess(taken, resistance, film),
        -limit if taken.flux < 0.0 else 0.0,
        limit if taken.flux > 0.0 else 0.0,
        0.0,
        SUBLIMATION_HEAT,
        covered,
        resistance,
        liquid_temperature,
        outside,
        wall,
    )
    flux, frost_flux, frost_rate, surface = cold.flux, cold.latent, cold.water, cold.surface
    if surface > FREEZING:
        flux, frost_flux, frost_rate, surface = thaw(
            cold.difference, covered, resistance, liquid_temperature, outside, wall
        )
    return WallHeat(
        flux, frost_flux, frost_rate, surface, bare * through_cover, slope * through_cover
    )


@compiled
def thaw(
    high: float,
    covered: float,
    resistance: float,
    liquid: float,
    outside: Outside,
    wall: Wall,
) -> tuple[float, float, float, float]:
    """Flux, frost flux, frost rate and surface where the surface reaches 0 C, as in `WallHeat`.

    At 0 C part of the settling vapor freezes; if even dew alone leaves a surplus, that melts
    frost, as far as frost covers the wall, and the rest warms the surface beyond 0 C. `high` is
    the difference [K] between inner wall and liquid if all vapor froze and nothing melted.
    """
    d = inside_difference(FREEZING - liquid, resistance, inside_film(liquid))
    conducted = inside_film(liquid) * d * cbrt(abs(d))
    dew_heat = vaporization_heat(FREEZING)
    taken = intake(FREEZING, dew_heat, covered, outside, wall)
    surplus = taken.flux - conducted
    if surplus <= 0.0:
        frost_flux = taken.latent - surplus
        return conducted, frost_flux, (frost_flux - dew_heat * taken.water) / FUSION_HEAT, FREEZING
    melting = covered * surplus
    warm = balance(d, d, high, melting, dew_heat, covered, resistance, liquid, outside, wall)
    lost = min(warm.water, 0.0) - melting / FUSION_HEAT
    return warm.flux, warm.latent - melting, lost, warm.surface


@compiled
def fin_heat(
    bare_flux: float,
    bare_conductance: float,
    wall: Wall,
    dry_area: float,
    contact_length: float,
) -> float:
    """Heat [W] that the dry wall above the liquid takes up and conducts down into it.

    A fin of length L = dry_area / contact_length with an insulated end: bare_flux contact_length
    tanh(m L) / m, m = sqrt(bare_conductance / (k t)) (Incropera & DeWitt, table 3.4, case B).
    The wall's own vapor side takes none. `bare_flux` and `bare_conductance` as in `WallHeat`;
    areas [m2], lengths [m]. No contact line, no heat.
    """
    if contact_length <= 0.0:
        return 0.0
    m = sqrt(bare_conductance / (wall.conductivity * wall.thickness))
    return bare_flux * contact_length * tanh(m * dry_area / contact_length) / m
