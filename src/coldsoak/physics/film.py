"""Heat from outside through the wetted wall into the liquid: the balance of the outer surface.

The surface takes heat from the air (free convection and wind, blended with exponent 3), from
surroundings and sky by radiation, from the sun, and from the vapor that becomes dew or frost on
it; it passes the sum inward through cover, frost, wall and the liquid's own film. Its temperature
is where both agree:

    h (Ta - Ts) + e s [(1 - v) Ta^4 + v Tsky^4 - Ts^4] + a G + latent - melting = q,
    Ts - Tl = q (cover + frost + wall) + (q / C)^(3/4).

The left side falls and the conducted flux rises with Ts, so the root lies between no flux and the
flux that a surface at liquid temperature would take: Newton's rule inside that bracket, halving
it where a step would leave it, cannot fail. (Only dry frost of little emissivity in still air
could have more than one root, within some tenths of a kelvin of the air; one of them is found.)

Below 0 C vapor settles as frost when the surface is under the frost point, and frost sublimes
when the air is drier; above 0 C dew gives its heat and runs off. A frosted surface does not pass
0 C: the surplus melts the frost, and all losses of a vanishing layer fade with the share of the
wall that it still covers.

The film of the outside is the largest unknown of the whole program (see `convection`); everything
here should be read as within some tens of per cent. Left out: the change of emissivity and of
absorptivity by frost, rain and snow, the wind along a horizontal cylinder, the ground's own
temperature, heat stored in the frost.
"""

from math import copysign, sqrt, tanh
from typing import NamedTuple

from numpy import cbrt

from coldsoak.physics import air as dry_air
from coldsoak.physics.compiled import compiled
from coldsoak.physics.convection import (
    GRAVITY,
    HORIZONTAL_STILL,
    UPRIGHT_STILL,
    free_nusselt,
    wind_nusselt,
)
from coldsoak.physics.frost import covered_share, frost_resistance, vapor_rate
from coldsoak.physics.moistair import FUSION_HEAT, SUBLIMATION_HEAT, saturation, vaporization_heat

STEFAN_BOLTZMANN = 5.670374419e-8
"""[W/(m2 K4)], CODATA 2018."""

FREEZING = 273.15
"""[K]"""

STIR = 0.2
"""[K]: a surface this close to the air's temperature has free convection as if it were this far.
The formulas' cusp at equal temperatures, which no real air shows, would give dry frost in still
air two temperatures at once. No source."""


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
def _upright_factor(mean: float) -> float:
    """`free_factor` of an upright wall in air at film temperature [K]; parabola, within 0.002 %."""
    return 0.32670859 + mean * (-1.0785349e-5 + mean * 9.2856113e-9)


@compiled
def _horizontal_factor(mean: float) -> float:
    """`free_factor` of a horizontal cylinder in air; parabola, within 0.002 %."""
    return 0.32363436 + mean * (-1.1110916e-5 + mean * 9.5710796e-9)


@compiled
def _wind_factor(mean: float) -> float:
    """`wind_factor` in air; parabola, within 0.01 %."""
    return 0.50432129 + mean * (-8.8526243e-5 + mean * 7.7972587e-8)


@compiled
def _rayleigh(difference: float, mean: float, length: float, pressure: float) -> float:
    """Rayleigh number of air at film temperature `mean` beside a wall of `length` [m]."""
    rho = dry_air.density(mean, pressure)
    buoyancy = GRAVITY * difference * rho * rho * length * length * length
    diffusion = mean * dry_air.viscosity(mean) * dry_air.conductivity(mean)
    return buoyancy * dry_air.HEAT_CAPACITY / diffusion


@compiled
def free_upright(
    difference: float, mean: float, height: float, pressure: float
) -> tuple[float, float]:
    """Free convection [W/(m2 K)] on an upright wall: `convection.upright_nusselt` in air.

    `difference` [K] between surface and air, positive whichever is warmer, `mean` [K] of both,
    `height` [m], air pressure [Pa]. The second value is the power of `difference` with which
    the first one grows.

    >>> round(free_upright(10.0, 258.15, 0.45, 101325.0)[0], 2)
    3.7
    """
    rayleigh = _rayleigh(difference, mean, height, pressure)
    nusselt, power = free_nusselt(UPRIGHT_STILL, _upright_factor(mean), rayleigh)
    return nusselt * dry_air.conductivity(mean) / height, power


@compiled
def free_horizontal(
    difference: float, mean: float, diameter: float, pressure: float
) -> tuple[float, float]:
    """Free convection [W/(m2 K)] around a horizontal cylinder of `diameter` [m], as above.

    >>> round(free_horizontal(10.0, 258.15, 0.30, 101325.0)[0], 2)
    3.55
    """
    rayleigh = _rayleigh(difference, mean, diameter, pressure)
    nusselt, power = free_nusselt(HORIZONTAL_STILL, _horizontal_factor(mean), rayleigh)
    return nusselt * dry_air.conductivity(mean) / diameter, power


@compiled
def forced(wind: float, mean: float, diameter: float, pressure: float) -> float:
    """Wind [m/s] across a cylinder [W/(m2 K)]: `convection.crossflow_nusselt` in air.

    >>> round(forced(5.0, 258.15, 0.30, 101325.0), 1)
    19.4
    """
    reynolds = wind * diameter * dry_air.density(mean, pressure) / dry_air.viscosity(mean)
    return wind_nusselt(_wind_factor(mean), reynolds) * dry_air.conductivity(mean) / diameter


@compiled
def convection(surface: float, outside: Outside, wall: Wall) -> tuple[float, float]:
    """Film coefficient h [W/(m2 K)], and -dh/dTs [W/(m2 K2)] for Newton's rule.

    Free and forced are blended as (free^3 + forced^3)^(1/3) (Churchill 1977, AIChE J. 23:10).
    For the derivative air's conductivity and viscosity are taken to go with the powers 0.90 and
    0.78 of temperature, as near 250 K, so that Ra goes with T^-4.68 and Re with T^-1.78, and
    forced convection with Re^0.6.
    """
    difference, mean = outside.air - surface, 0.5 * (outside.air + surface)
    square = difference * difference + STIR * STIR
    if wall.upright:
        free, power = free_upright(sqrt(square), mean, wall.height, outside.pressure)
    else:
        free, power = free_horizontal(sqrt(square), mean, wall.diameter, outside.pressure)
    wind = forced(outside.wind, mean, wall.diameter, outside.pressure)
    free_cube = free * free * free
    cubes = free_cube + wind * wind * wind
    blend = float(cbrt(cubes))
    growth = power * difference / square + 0.5 * (4.68 * power - 0.90) / mean
    change = growth * free_cube + 0.5 * (1.78 * 0.6 - 0.90) / mean * (cubes - free_cube)
    return blend, blend * change / cubes


@compiled
def radiation(surface: float, outside: Outside, wall: Wall) -> float:
    """Heat [W/m2] that a grey surface [K] gains from surroundings and sky."""
    around = (1.0 - wall.sky_view) * outside.air**4 + wall.sky_view * outside.sky**4
    return wall.emissivity * STEFAN_BOLTZMANN * (around - surface**4)


class Intake(NamedTuple):
    """Heat and water that a surface takes from outside."""

    dry: float
    """[W/m2] from air, surroundings, sky and sun."""
    dry_slope: float
    """[W/(m2 K)] by which it falls as the surface warms."""
    latent: float
    """[W/m2] from vapor that settles, less what sublimes."""
    slope: float
    """[W/(m2 K)] by which dry and latent fall together, kept positive for Newton's rule."""
    heat: float
    """[J/kg] of the vapor that settles or sublimes: latent over the flow of water."""


@compiled
def intake(
    surface: float, settling_heat: float, covered: float, outside: Outside, wall: Wall
) -> Intake:
    """Heat and water that a surface [K] takes, frost covering a share `covered` of it.

    Vapor that settles gives `settling_heat` [J/kg] (frost or dew, as the caller knows); frost
    that sublimes costs the heat of sublimation.
    """
    coefficient, fall = convection(surface, outside, wall)
    dry = (
        coefficient * (outside.air - surface)
        + radiation(surface, outside, wall)
        + wall.absorptivity * outside.sun
    )
    dry_slope = (
        coefficient
        + fall * (outside.air - surface)
        + 4.0 * wall.emissivity * STEFAN_BOLTZMANN * surface**3
    )
    over_surface, rise = saturation(surface)
    difference = outside.vapor_pressure - over_surface
    share, heat = (1.0, settling_heat) if difference > 0.0 else (covered, SUBLIMATION_HEAT)
    moving = share * heat * vapor_rate(1.0, 1.0, outside.pressure)
    latent_slope = moving * (coefficient * rise + fall * difference)
    slope = dry_slope + max(latent_slope, -0.9 * dry_slope)
    return Intake(dry, dry_slope, moving * coefficient * difference, slope, heat)


@compiled
def inside_film(liquid: float) -> float:
    """C [W/(m2 K^(4/3))] of the film inside, q = C dT^(4/3), for LP-gas at `liquid` [K].

    Turbulent limit of Churchill & Chu (1975), Nu = [0.387 / F(Pr)]^2 Ra^(1/3), with saturated
    propane's properties (CoolProp 8); a line within 2 % between 213 and 293 K. It assumes a wall
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
    d = size / (1.0 + resistance * film * float(cbrt(size)))
    for _ in range(8):
        root = float(cbrt(d))
        rest = size - d * (1.0 + resistance * film * root)
        d += rest / (1.0 + 4.0 / 3.0 * resistance * film * root)
    return d if total > 0.0 else -d


class Balance(NamedTuple):
    """A settled surface."""

    flux: float
    """[W/m2] inward."""
    surface: float
    """[K]"""
    latent: float
    """[W/m2]"""
    water: float
    """[kg/(m2 s)] settling, or leaving the frost if negative."""


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
    `start`. Newton's rule, halving the bracket where it would leave it; it stops after a step of
    less than 5e-4 K and a hundredth of the unknown, which leaves less than 1e-5 K (1e-3 K at the
    frost point, where the law has a kink).
    """
    film = inside_film(liquid)
    d = start
    for _ in range(60):
        root = float(cbrt(abs(d)))
        conducted, gain = film * d * root, 4.0 / 3.0 * film * root
        lift = 1.0 + resistance * gain
        surface = liquid + d + resistance * conducted
        taken = intake(surface, settling_heat, covered, outside, wall)
        gap = taken.dry + taken.latent - sink - conducted
        low, high = (d, high) if gap > 0.0 else (low, d)
        new = d + gap / (gain + taken.slope * lift)
        newton = low <= new <= high
        new = new if newton else 0.5 * (low + high)
        step = new - d
        moved = step * lift
        close = newton and abs(moved) < 5e-4 and abs(step) < 0.01 * abs(d)
        d = new
        if close or abs(moved) < 1e-6:
            break
    latent = taken.latent - (taken.slope - taken.dry_slope) * moved
    conducted = film * d * float(cbrt(abs(d)))
    surface = liquid + d + resistance * conducted
    return Balance(conducted, surface, latent, latent / taken.heat)


@compiled
def first_guess(flux: float, slope: float, resistance: float, film: float) -> float:
    """Heat [W/m2] through the wall if the outside were linear in the surface's temperature.

    `flux` [W/m2] is what a surface at liquid temperature takes, `slope` [W/(m2 K)] its fall.
    """
    through = (abs(flux) + 1e-12) / (1.0 + slope * resistance)
    inner = 1.0 / sqrt(film * sqrt(film * through))
    return flux / (1.0 + slope * (resistance + inner))


@compiled
def film_difference(flux: float, film: float) -> float:
    """Difference [K] that drives `flux` >= 0 [W/m2] through the liquid's film: (q / C)^(3/4)."""
    root = sqrt(flux / film)
    return root * sqrt(root)


@compiled
def thaw(
    start: float,
    low: float,
    high: float,
    covered: float,
    resistance: float,
    liquid: float,
    outside: Outside,
    wall: Wall,
) -> tuple[Balance, float]:
    """Balance of a surface that may reach 0 C, and the growth of its frost [kg/(m2 s)].

    If settling frost alone leaves no surplus at 0 C, the surface stays below. Else it is at 0 C
    and part of the settling vapor freezes; if even dew leaves a surplus, that melts frost, as
    far as frost covers the wall, and the rest warms the surface beyond 0 C. Arguments as in
    `balance`. The latent heat of the result has the heat of melting taken off.
    """
    film = inside_film(liquid)
    d = inside_difference(FREEZING - liquid, resistance, film)
    conducted = film * d * float(cbrt(abs(d)))
    dew_heat = vaporization_heat(FREEZING)
    taken = intake(FREEZING, dew_heat, covered, outside, wall)
    surplus = taken.dry + taken.latent - conducted
    settling = max(taken.latent, 0.0) / taken.heat
    if surplus + FUSION_HEAT * settling <= 0.0:
        cold = balance(d, low, d, 0.0, SUBLIMATION_HEAT, covered, resistance, liquid, outside, wall)
        return cold, cold.water
    if surplus <= 0.0:
        latent = taken.latent - surplus
        growth = settling - (surplus + FUSION_HEAT * settling) / FUSION_HEAT
        return Balance(conducted, FREEZING, latent, settling), growth
    melting = covered * surplus
    first = covered * d + (1.0 - covered) * max(start, d)
    warm = balance(first, d, high, melting, dew_heat, covered, resistance, liquid, outside, wall)
    growth = min(warm.water, 0.0) - melting / FUSION_HEAT
    return Balance(warm.flux, warm.surface, warm.latent - melting, warm.water), growth


@compiled
def wall_heat(liquid_temperature: float, frost: float, outside: Outside, wall: Wall) -> WallHeat:
    """Heat through the wetted wall of a cylinder whose liquid is at a temperature [K].

    `frost` [kg/m2] is the layer on it, none below zero. Range: 200 to 330 K, wind 0 to 40 m/s,
    frost 0 to 5 kg/m2, cover 0 to 1 m2 K/W; beyond, the formulas extrapolate and stay finite.
    """
    liquid, film = liquid_temperature, inside_film(liquid_temperature)
    covered = covered_share(frost)
    resistance = wall.cover + frost_resistance(frost) + wall.thickness / wall.conductivity
    bare = intake(liquid, SUBLIMATION_HEAT, covered, outside, wall)
    flux = bare.dry + bare.latent
    furthest = copysign(film_difference(abs(flux), film), flux)
    low, high = min(furthest, 0.0), max(furthest, 0.0)
    through = first_guess(flux, bare.slope, resistance, film)
    d = copysign(film_difference(abs(through), film), flux)
    surface = liquid + d + resistance * through
    if surface < FREEZING:
        settled = balance(
            d, low, high, 0.0, SUBLIMATION_HEAT, covered, resistance, liquid, outside, wall
        )
        growth, surface = settled.water, settled.surface
    if surface >= FREEZING:
        settled, growth = thaw(d, low, high, covered, resistance, liquid, outside, wall)
    share = 1.0 / (1.0 + bare.dry_slope * wall.cover)
    return WallHeat(
        settled.flux,
        settled.latent,
        growth,
        settled.surface,
        bare.dry * share,
        bare.dry_slope * share,
    )


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
