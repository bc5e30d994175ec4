"""Liquid and vapor in one closed cylinder at equilibrium: split, pressure, energy."""

import numpy as np

from coldsoak.night.records import Floats, Record
from coldsoak.physics.compiled import compiled
from coldsoak.physics.fuel import (
    GAS_CONSTANT,
    N_COMPONENTS,
    bubble_pressure,
    liquid_enthalpy,
    liquid_heat_capacity,
    liquid_molar_volume,
    vapor_molar_volume,
    vaporization_enthalpy,
)

CONTENTS = np.dtype(
    [
        ("ratio", "f8", (N_COMPONENTS,)),  # mole fraction in the vapor over that in the liquid
        ("liquid", "f8", (N_COMPONENTS,)),  # mole fractions
        ("vapor", "f8", (N_COMPONENTS,)),  # mole fractions
        ("vapor_moles", "f8"),  # above the liquid [mol]
        ("pressure", "f8"),  # absolute [Pa]
        ("liquid_volume", "f8"),  # [m3]
        ("latent", "f8"),  # heat that a mole of the vapor took to boil [J/mol]
        ("draw_heat", "f8"),  # heat that drawing a mole takes at constant temperature [J/mol]
        ("vapor_enthalpy", "f8"),  # liquid at 233.15 K being zero [J/mol]
        ("sensible_capacity", "f8"),  # of all contents as liquid [J/K]
        ("heat_capacity", "f8"),  # change of energy with temperature, volume constant [J/K]
        ("energy", "f8"),  # internal, liquid at 233.15 K and no pressure being zero [J]
    ]
)
"""What is in a cylinder, filled by :func:`settle`."""


def unsettled(moles: Floats) -> Record:
    """CONTENTS record of which nothing is known yet but the ``moles`` (float64[k])."""
    contents = np.zeros(1, CONTENTS).view(np.recarray)
    forget(contents[0], moles)
    return contents[0]


@compiled
def forget(contents: Record, moles: Floats) -> None:
    """Set ratios and vapor to a first guess: even ratios, little vapor."""
    contents.ratio[:] = 1.0
    contents.vapor_moles = 1e-3 * moles.sum()


@compiled
def settle(temperature: float, moles: Floats, volume: float, contents: Record) -> None:
    """One pass of the split of ``moles`` between liquid and vapor in a closed volume.

    The liquid's composition follows from the last equilibrium ratios (Rachford & Rice 1952), new
    ratios from the bubble point of that liquid, and the moles of vapor from the volume. Composition
    moves slowly, so a pass that starts from what ``contents`` holds of the last instant is exact to
    second order; :func:`settle_fully` repeats it. With no liquid left, the vapor fills the volume.

    Parameters
    ----------
    temperature : float
        Of liquid and vapor [K].
    moles : float64[k]
        All of each component [mol].
    volume : float
        Water capacity [m3].
    contents : CONTENTS
        Read (``ratio``, ``vapor_moles``) and filled.
    """
    total = moles.sum()
    ratio = contents.vapor_moles / max(total - contents.vapor_moles, 1e-12 * total)
    liquid, vapor = contents.liquid, contents.vapor
    scale = 0.0
    for k in range(N_COMPONENTS):
        liquid[k] = moles[k] / (1.0 + contents.ratio[k] * ratio)
        scale += liquid[k]
    for k in range(N_COMPONENTS):
        liquid[k] /= scale
    pressure = bubble_pressure(temperature, liquid, vapor)
    v_vapor = vapor_molar_volume(temperature, pressure, vapor)
    v_liquid = liquid_molar_volume(temperature, liquid)
    for k in range(N_COMPONENTS):
        if liquid[k] > 0.0:
            contents.ratio[k] = vapor[k] / liquid[k]
    saturated = (volume - total * v_liquid) / (v_vapor - v_liquid)
    dry = saturated >= total
    if dry:
        for k in range(N_COMPONENTS):
            vapor[k] = moles[k] / total
        pressure = pressure_alone(temperature, volume / total, vapor, pressure * total / saturated)
    contents.pressure = pressure
    contents.vapor_moles = min(saturated, total)
    contents.liquid_volume = (total - contents.vapor_moles) * v_liquid
    weigh_energy(temperature, moles, volume, contents)
    if dry:
        # The vapor's own work, and nothing left to boil.
        contents.draw_heat = pressure * volume / total
        contents.heat_capacity -= volume * pressure / temperature
    else:
        # Clapeyron; the vapor space keeps its volume while the temperature moves. A mole drawn
        # boils itself and what fills the volume that the liquid leaves.
        slope = contents.latent / (temperature * (v_vapor - v_liquid))
        store = contents.vapor_moles * (slope / pressure - 1.0 / temperature)
        contents.draw_heat = contents.latent * v_vapor / (v_vapor - v_liquid)
        contents.heat_capacity += contents.latent * store - volume * slope


@compiled
def pressure_alone(temperature: float, room: float, vapor: Floats, guess: float) -> float:
    """Pressure of vapor with no liquid left [Pa], each mole of it in ``room`` [m3/mol].

    The real vapor takes less room than an ideal gas by what hardly depends on its pressure (its
    second virial coefficient), so three rounds from a ``guess`` [Pa] settle it to a few parts in
    a million.
    """
    pressure = guess
    for _ in range(3):
        ideal = GAS_CONSTANT * temperature / pressure
        less = ideal - vapor_molar_volume(temperature, pressure, vapor)
        pressure = GAS_CONSTANT * temperature / (room + less)
    return pressure


@compiled
def weigh_energy(temperature: float, moles: Floats, volume: float, contents: Record) -> None:
    """Fill energy, enthalpies and capacities of contents whose split and pressure are known."""
    enthalpy = 0.0
    sensible = 0.0
    latent = 0.0
    latent_slope = 0.0
    vapor_enthalpy = 0.0
    for k in range(N_COMPONENTS):
        if moles[k] > 0.0:
            h = liquid_enthalpy(k, temperature)
            boil = vaporization_enthalpy(k, temperature)
            enthalpy += moles[k] * h
            sensible += moles[k] * liquid_heat_capacity(k, temperature)
            latent += contents.vapor[k] * boil
            latent_slope += contents.vapor[k] * (vaporization_enthalpy(k, temperature + 1.0) - boil)
            vapor_enthalpy += contents.vapor[k] * (h + boil)
    contents.latent = latent
    contents.vapor_enthalpy = vapor_enthalpy
    contents.sensible_capacity = sensible
    contents.heat_capacity = sensible + latent_slope * contents.vapor_moles
    contents.energy = enthalpy + contents.vapor_moles * latent - contents.pressure * volume


@compiled
def settle_fully(temperature: float, moles: Floats, volume: float, contents: Record) -> None:
    """Repeat :func:`settle` until vapor and ratios stand still to 1e-12 and 1e-10 of themselves."""
    for _ in range(200):
        vapor_moles = contents.vapor_moles
        ratios = contents.ratio.sum()
        settle(temperature, moles, volume, contents)
        still = abs(contents.vapor_moles - vapor_moles) <= 1e-12 * moles.sum()
        if still and abs(contents.ratio.sum() - ratios) <= 1e-10 * ratios:
            return
