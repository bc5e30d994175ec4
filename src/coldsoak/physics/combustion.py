"""What burning LP-gas gives and takes: heat, air, carbon dioxide, water, and less of it up high.

Complete combustion of C_c H_h needs c + h/4 of oxygen and leaves c of carbon dioxide and h/2 of
water, mole for mole. The gross heating value counts the water as liquid, the net one as vapor;
a stove's or furnace's nameplate input is gross.

All functions of a gas take the mole fractions of what burns, in the order of
fuel.COMPONENTS, that is the vapor that left the cylinder and not the liquid in it.
"""

import math

import numpy as np

from coldsoak.physics.compiled import compiled
from coldsoak.physics.fuel import COMPONENTS, MOLAR_MASS, N_COMPONENTS, Vector

_FORMULA = {
    "ethane": (2, 6, 1560.69e3),
    "propane": (3, 8, 2219.17e3),
    "propylene": (3, 6, 2058.02e3),
    "isobutane": (4, 10, 2868.20e3),
    "n-butane": (4, 10, 2877.40e3),
}
# Carbon and hydrogen atoms, and the gross heating value [J/mol] of the ideal gas at 25 C,
# ISO 6976:1995 table 3 (from memory; the tests rebuild it from heats of formation).

CARBON: Vector = np.array([float(_FORMULA[name][0]) for name in COMPONENTS])
"""Carbon atoms per molecule."""

HYDROGEN: Vector = np.array([float(_FORMULA[name][1]) for name in COMPONENTS])
"""Hydrogen atoms per molecule."""

CONDENSATION_OF_WATER = 44.016e3
"""Heat [J/mol] of condensing water at 25 C, ISO 6976:1995 annex (from memory)."""

GROSS_HEATING_VALUE: Vector = np.array([_FORMULA[name][2] for name in COMPONENTS])
"""Heat of combustion [J/mol] with the water condensed, ideal gas at 25 C, ISO 6976:1995."""

NET_HEATING_VALUE: Vector = GROSS_HEATING_VALUE - 0.5 * HYDROGEN * CONDENSATION_OF_WATER
"""Heat of combustion [J/mol] with the water left as vapor, ideal gas at 25 C."""

OXYGEN_IN_AIR = 0.2095
"""Mole fraction of oxygen in dry air (US Standard Atmosphere 1976: 0.20948)."""

MOLAR_MASS_OXYGEN = 0.0319988
"""[kg/mol], IUPAC atomic weights."""

MOLAR_MASS_CARBON_DIOXIDE = 0.0440095
"""[kg/mol], IUPAC atomic weights."""

MOLAR_MASS_WATER = 0.01801528
"""[kg/mol], IUPAC atomic weights."""

MOLAR_MASS_AIR = 0.0289647
"""Dry air [kg/mol], US Standard Atmosphere 1976."""

STANDARD_PRESSURE = 101_325.0
"""Standard atmosphere [Pa], at which appliances are rated."""

_FOOT = 0.3048


@compiled
def _mean(values: Vector, gas: Vector) -> float:
    """Mole-weighted mean of a property of the components."""
    total = 0.0
    for i in range(N_COMPONENTS):
        total += gas[i] * values[i]
    return total


@compiled
def gross_heating_value(gas: Vector) -> float:
    """Heat [J/kg] of burning a gas with its water condensed, 25 C.

    >>> round(gross_heating_value(np.array([0.0, 1.0, 0.0, 0.0, 0.0])) / 1e6, 2)
    50.33
    """
    return _mean(GROSS_HEATING_VALUE, gas) / _mean(MOLAR_MASS, gas)


@compiled
def net_heating_value(gas: Vector) -> float:
    """Heat [J/kg] of burning a gas with its water left as vapor, 25 C.

    >>> round(net_heating_value(np.array([0.0, 1.0, 0.0, 0.0, 0.0])) / 1e6, 2)
    46.33
    """
    return _mean(NET_HEATING_VALUE, gas) / _mean(MOLAR_MASS, gas)


@compiled
def oxygen_per_mol(gas: Vector) -> float:
    """Oxygen taken [mol/mol] by complete combustion."""
    return _mean(CARBON, gas) + 0.25 * _mean(HYDROGEN, gas)


@compiled
def air_per_mol(gas: Vector) -> float:
    """Dry air needed [mol/mol, or volume per volume of ideal gas], none in excess.

    >>> round(air_per_mol(np.array([0.0, 1.0, 0.0, 0.0, 0.0])), 1)
    23.9
    """
    return oxygen_per_mol(gas) / OXYGEN_IN_AIR


@compiled
def carbon_dioxide_per_mol(gas: Vector) -> float:
    """Carbon dioxide made [mol/mol]."""
    return _mean(CARBON, gas)


@compiled
def water_per_mol(gas: Vector) -> float:
    """Water made [mol/mol]."""
    return 0.5 * _mean(HYDROGEN, gas)


@compiled
def oxygen_per_kg(gas: Vector) -> float:
    """Oxygen taken [kg/kg] by complete combustion."""
    return oxygen_per_mol(gas) * MOLAR_MASS_OXYGEN / _mean(MOLAR_MASS, gas)


@compiled
def air_per_kg(gas: Vector) -> float:
    """Dry air needed [kg/kg], none in excess."""
    return air_per_mol(gas) * MOLAR_MASS_AIR / _mean(MOLAR_MASS, gas)


@compiled
def carbon_dioxide_per_kg(gas: Vector) -> float:
    """Carbon dioxide made [kg/kg]."""
    return carbon_dioxide_per_mol(gas) * MOLAR_MASS_CARBON_DIOXIDE / _mean(MOLAR_MASS, gas)


@compiled
def water_per_kg(gas: Vector) -> float:
    """Water made [kg/kg]: more than one and a half times the weight of the gas.

    >>> round(water_per_kg(np.array([0.0, 1.0, 0.0, 0.0, 0.0])), 2)
    1.63
    """
    return water_per_mol(gas) * MOLAR_MASS_WATER / _mean(MOLAR_MASS, gas)


@compiled
def altitude_factor(station_pressure: float) -> float:
    """Share of its sea-level input that a burner still takes under a station pressure [Pa].

    A fixed orifice at a fixed gauge pressure passes mass as sqrt(density x pressure drop)
    (Bernoulli), and the gas' density follows the absolute pressure.

    >>> round(altitude_factor(84_300.0), 2)   # 5,000 ft
    0.91
    """
    return math.sqrt(station_pressure / STANDARD_PRESSURE)


@compiled
def code_altitude_factor(elevation: float) -> float:
    """Share of its sea-level rating that the fuel-gas code allows at an elevation [m].

    NFPA 54 (National Fuel Gas Code): 4 % less for each 1,000 ft above sea level, applied above
    2,000 ft only, hence the step of 8 % there. A rule of sizing with a margin, twice as strict
    as the physics of altitude_factor; never below zero.

    >>> round(code_altitude_factor(5_000 * 0.3048), 2)
    0.8
    """
    if elevation <= 2_000.0 * _FOOT:
        return 1.0
    return max(0.0, 1.0 - 0.04 * elevation / (1_000.0 * _FOOT))
