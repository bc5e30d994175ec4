"""The air of one well-mixed room: carbon dioxide, oxygen and water, and the water on cold surfaces.

The room is held at the pressure of the air outside. What is mixed is counted per mole of dry air:
mole fractions of carbon dioxide and oxygen as analyzers print them, and moles of water vapor per
mole of dry air (the humidity ratio over 0.622). With `n` moles of dry air in the room, `N` that
come in from outside each second, `s` of a substance made and `S` of dry air made altogether,

    n dx/dt = N (x_outside - x) + s - S x

whatever the room's temperature does: warm air that expands leaves as it is. A flame makes less dry
air than it takes (S < 0) and more moist air, so that nothing is drawn in but `N`.

Water condenses on the coldest glazing and on the coldest wall, stays there, and dries again;
nothing drains or is wiped off. Other surfaces and things in the room take up none, so that the air
here is rather too moist than too dry. Carbon monoxide is in no equation: it does not follow from
the fuel.
"""

from math import expm1, log1p
from typing import NamedTuple

from coldsoak.physics.combustion import (
    GROSS_HEATING_VALUE,
    MOLAR_MASS_WATER,
    OXYGEN_IN_AIR,
    carbon_dioxide_per_mol,
    oxygen_per_mol,
    water_per_mol,
)
from coldsoak.physics.compiled import compiled
from coldsoak.physics.frost import MASS_PER_HEAT, covered_share
from coldsoak.physics.fuel import N_COMPONENTS, Vector
from coldsoak.physics.moistair import (
    SUBLIMATION_HEAT,
    TRIPLE_POINT,
    saturation,
    vaporization_heat,
)

OUTSIDE_CO2 = 424e-6
"""Carbon dioxide in dry air outside [mol/mol]: World Meteorological Organization, global mean of
2024, 423.9 ppm."""

GAS_CONSTANT = 8.314462618
"""[J/(mol K)], CODATA 2018."""

RESPIRATORY_QUOTIENT = 0.85
"""Carbon dioxide breathed out over oxygen used [mol/mol], Persily & de Jonge (2017), Indoor Air
27:868, from memory."""

INSIDE_CONVECTION = 2.5
"""Convective film coefficient inside on an upright surface [W/(m2 K)], ISO 6946:2017 annex C,
from memory."""

INSIDE_RESISTANCE = 0.13
"""Surface resistance inside, horizontal heat flow [m2 K/W], ISO 6946."""

LEAST_OXYGEN, FULL_OXYGEN = 0.115, 0.13
"""Oxygen [mol/mol] below which no flame of propane burns in air thinned by nitrogen (NFPA 69,
limiting oxygen concentration 11.5 %, from memory), and above which nothing holds it back here: it
fades between them. Long before, people are in danger; a heater was measured to burn at 15.1 %."""

NO_TURNOVER = 1e-15
"""Below it a room counts as closed [1/s]: its air would change in thirty million years."""

NEWTON_STEPS = 2
"""For the temperature of a surface that water condenses on."""


class Air(NamedTuple):
    """What is in a room's air and on its cold surfaces; or the rates of all that [per s]."""

    co2: float
    """[mol per mol of dry air]"""
    oxygen: float
    """[mol per mol of dry air]"""
    vapor: float
    """Water [mol per mol of dry air]."""
    on_window: float
    """Water or ice on the glazing [kg/m2]."""
    on_wall: float
    """Water or ice on the wall [kg/m2]."""


class Made(NamedTuple):
    """What flames, people and cooking give to the air [mol/s]; what they take is negative."""

    co2: float
    oxygen: float
    water: float


class ColdSurface(NamedTuple):
    """A part of the envelope as seen from inside: area [m2] and the resistances [m2 K/W] from
    its inner face to the room and to the outside."""

    area: float
    inside: float
    outside: float


class Enclosure(NamedTuple):
    """A room: volume of its air [m3], its coldest glazing and its coldest wall."""

    volume: float
    window: ColdSurface
    wall: ColdSurface


class Around(NamedTuple):
    """What the room's air is exposed to.

    Temperatures inside and outside [K], vapor pressure outside [Pa], station pressure [Pa], and
    outside air that comes in [m3/s, at the temperature outside].
    """

    inside: float
    outside: float
    vapor_pressure: float
    pressure: float
    exchange: float


class Condensing(NamedTuple):
    """Water that goes onto a surface [kg/(m2 s)], negative where it dries, and the surface's
    temperature [K]."""

    rate: float
    temperature: float


@compiled
def vapor_pressure_of(vapor: float, pressure: float) -> float:
    """Vapor pressure [Pa] of air with `vapor` mol of water per mol of dry air at `pressure` [Pa].

    >>> round(vapor_pressure_of(0.01, 101325.0), 1)
    1003.2
    """
    return pressure * vapor / (1.0 + vapor)


@compiled
def vapor_of(vapor_pressure: float, pressure: float) -> float:
    """Water per dry air [mol/mol] at a vapor pressure and a pressure [Pa]; the inverse."""
    return vapor_pressure / (pressure - vapor_pressure)


@compiled
def dry_moles(volume: float, temperature: float, vapor: float, pressure: float) -> float:
    """Dry air [mol] in a volume [m3] of moist air, ideal gas.

    >>> round(dry_moles(1.0, 293.15, 0.0, 101325.0), 2)
    41.57
    """
    return pressure * volume / (GAS_CONSTANT * temperature * (1.0 + vapor))


@compiled
def fresh_air(around: Around) -> float:
    """Dry air that comes in from outside [mol/s]."""
    dry = around.pressure - around.vapor_pressure
    return dry * around.exchange / (GAS_CONSTANT * around.outside)


@compiled
def outside_air(around: Around) -> Air:
    """Air as it is outside, with nothing on any surface."""
    vapor = vapor_of(around.vapor_pressure, around.pressure)
    return Air(OUTSIDE_CO2, OXYGEN_IN_AIR, vapor, 0.0, 0.0)


@compiled
def made_by_flame(heat: float, gas: Vector) -> Made:
    """What an unvented flame of gross `heat` [W] gives and takes: complete combustion.

    `gas` holds the mole fractions of what burns (fuel.COMPONENTS). One kilowatt of propane:

    >>> import numpy as np
    >>> made = made_by_flame(1000.0, np.array([0.0, 1.0, 0.0, 0.0, 0.0]))
    >>> [round(1e3 * rate, 3) for rate in made]  # [mmol/s]
    [1.352, -2.253, 1.802]
    """
    value = 0.0
    for i in range(N_COMPONENTS):
        value += gas[i] * GROSS_HEATING_VALUE[i]
    burned = heat / value
    return Made(
        burned * carbon_dioxide_per_mol(gas),
        -burned * oxygen_per_mol(gas),
        burned * water_per_mol(gas),
    )


@compiled
def made_by_people(co2: float, water: float) -> Made:
    """What people give and take who breathe out `co2` [mol/s] and give off `water` [kg/s]."""
    return Made(co2, -co2 / RESPIRATORY_QUOTIENT, water / MOLAR_MASS_WATER)


@compiled
def sustained(oxygen: float) -> float:
    """Share of flames and breath that air with so much oxygen [mol/mol] still sustains.

    >>> sustained(0.195), sustained(0.10)
    (1.0, 0.0)
    """
    return min(1.0, max(0.0, (oxygen - LEAST_OXYGEN) / (FULL_OXYGEN - LEAST_OXYGEN)))


@compiled
def dry_temperature(surface: ColdSurface, inside: float, outside: float) -> float:
    """Temperature of a surface's inner face [K], steady and with no water moving (ISO 6946).

    Single glass of 5.9 W/m2K, 20 C inside and -20 C outside:

    >>> glass = ColdSurface(1.0, 0.13, 1.0 / 5.9 - 0.13)
    >>> round(dry_temperature(glass, 293.15, 253.15) - 273.15, 1)
    -10.7
    """
    share = surface.inside / (surface.inside + surface.outside)
    return inside - share * (inside - outside)


@compiled
def condensing(
    vapor_pressure: float, film: float, surface: ColdSurface, around: Around
) -> Condensing:
    """Water that condenses on a surface or dries from it, and the surface's temperature.

    Vapor moves by the Lewis relation with the film coefficient of ISO 6946, lowered as the inside
    resistance is raised by a curtain; its heat warms the surface. The last 10 g/m2 of what is
    there to dry cover only part of the surface.

    The surface's temperature is found by two Newton steps from the dry one: within 0.03 K of the
    solution, and exact in the balance of heat.

    Parameters
    ----------
    vapor_pressure : float
        Of the room's air [Pa].
    film : float
        Water or ice on the surface [kg/m2].
    surface : ColdSurface
    around : Around
    """
    dry = dry_temperature(surface, around.inside, around.outside)
    coefficient = INSIDE_CONVECTION * INSIDE_RESISTANCE / surface.inside
    per_pascal = MASS_PER_HEAT * coefficient / around.pressure
    if vapor_pressure < saturation(dry)[0]:
        per_pascal *= covered_share(film)
    latent = SUBLIMATION_HEAT if dry < TRIPLE_POINT else vaporization_heat(dry)
    conductance = 1.0 / surface.inside + 1.0 / surface.outside
    temperature = dry
    for _ in range(NEWTON_STEPS):
        over, slope = saturation(temperature)
        surplus = latent * per_pascal * (vapor_pressure - over) - conductance * (temperature - dry)
        temperature += surplus / (conductance + latent * per_pascal * slope)
    return Condensing(conductance * (temperature - dry) / latent, temperature)


@compiled
def air_rates(air: Air, made: Made, around: Around, enclosure: Enclosure) -> Air:
    """Time derivatives of the room's air and of the water on its cold surfaces.

    Parameters
    ----------
    air : Air
        As it is now.
    made : Made
        By all flames without a flue, by people and by cooking [mol/s]; less where there is hardly
        any oxygen left.
    around : Around
    enclosure : Enclosure

    Returns
    -------
    Air
        Of each number its rate: [mol/(mol s)] of the air's, [kg/(m2 s)] of the surfaces'.
    """
    here = vapor_pressure_of(air.vapor, around.pressure)
    window = condensing(here, air.on_window, enclosure.window, around)
    wall = condensing(here, air.on_wall, enclosure.wall, around)
    lost = window.rate * enclosure.window.area + wall.rate * enclosure.wall.area
    moles = dry_moles(enclosure.volume, around.inside, air.vapor, around.pressure)
    fresh = fresh_air(around)
    outside = vapor_of(around.vapor_pressure, around.pressure)
    share = sustained(air.oxygen)
    co2, oxygen, water = share * made.co2, share * made.oxygen, share * made.water
    leaving = fresh + co2 + oxygen
    return Air(
        (fresh * OUTSIDE_CO2 + co2 - leaving * air.co2) / moles,
        (fresh * OXYGEN_IN_AIR + oxygen - leaving * air.oxygen) / moles,
        (fresh * outside + water - lost / MOLAR_MASS_WATER - leaving * air.vapor) / moles,
        window.rate,
        wall.rate,
    )


@compiled
def approach(
    first: float,
    outside: float,
    source: float,
    dry: float,
    fresh: float,
    moles: float,
    seconds: float,
) -> float:
    """Mole fraction after some time with everything steady: the closed form of the balance.

    An exponential towards (fresh x outside + source) / (fresh + dry); in a closed room without
    sources the fraction stays as it is.

    Parameters
    ----------
    first, outside : float
        Mole fraction at the start and outside [mol/mol of dry air].
    source, dry : float
        Of this substance, and of dry air altogether [mol/s].
    fresh : float
        Dry air that comes in [mol/s].
    moles : float
        Dry air in the room [mol].
    seconds : float
        Time [s].

    References
    ----------
    Single-zone balance, ASHRAE Fundamentals (2009), chapter 16; ASTM D6245, from memory.

    Examples
    --------
    Three kilowatts of propane in a closed room of 20 m3, after an hour [ppm]:

    >>> round(1e6 * approach(424e-6, 424e-6, 4.06e-3, -2.7e-3, 0.0, 831.5, 3600.0), -1)
    18110.0
    """
    turnover = (fresh + dry) / moles
    gain = (fresh * outside + source) / moles - turnover * first
    if abs(turnover) < NO_TURNOVER:
        return first + gain * seconds
    return first - gain * expm1(-turnover * seconds) / turnover


@compiled
def time_to(limit: float, first: float, source: float, dry: float, moles: float) -> float:
    """Time [s] until a closed room reaches a mole fraction; negative if it moves away from it.

    The inverse of `approach` with no air coming in; arguments as there.
    """
    turnover = dry / moles
    gain = source / moles - turnover * first
    if abs(turnover) < NO_TURNOVER:
        return (limit - first) / gain
    return -log1p(-turnover * (limit - first) / gain) / turnover
