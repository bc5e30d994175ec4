"""Densities, volumes, latent heats of LP-gas against what codes and data sheets print."""

from coldsoak.checks.check import Check
from coldsoak.checks.fuels import N_BUTANE, PROPANE, typical
from coldsoak.checks.printed import printed
from coldsoak.checks.table import rows
from coldsoak.checks.units import (
    ATMOSPHERE,
    BTU,
    CUBIC_FOOT,
    FREEZING,
    GALLON,
    POUND,
    fahrenheit,
    in_fahrenheit,
)
from coldsoak.physics import fuel
from coldsoak.physics.combustion import MOLAR_MASS_AIR, gross_heating_value
from coldsoak.physics.fuel import GAS_CONSTANT, Vector
from coldsoak.rig.filling import WATER_AT_60F

SUBJECT = "properties of LP-gas"

SIXTY = fahrenheit(60.0)
FIFTEEN = 15.0 + FREEZING
TWENTY = 20.0 + FREEZING


def pounds_per_gallon(liquid: Vector, degrees: float) -> float:
    """Mass of a gallon of boiling liquid [lb] at a temperature [degF]."""
    return fuel.liquid_density(fahrenheit(degrees), liquid) * GALLON / POUND


def boiling_point(liquid: Vector) -> float:
    """Temperature [degF] at which a liquid boils at one atmosphere."""
    return in_fahrenheit(fuel.bubble_temperature(ATMOSPHERE, liquid))


def latent_heat(liquid: Vector) -> float:
    """Latent heat [Btu/lb] at the boiling point."""
    boiling = fuel.bubble_temperature(ATMOSPHERE, liquid)
    return fuel.latent_heat(boiling, liquid) * POUND / BTU


def real_volume(temperature: float, pressure: float = ATMOSPHERE) -> float:
    """Volume of propane vapor [m3/kg]."""
    return float(1.0 / fuel.vapor_density(temperature, pressure, PROPANE))


def ideal_volume(temperature: float) -> float:
    """The same if it were an ideal gas, at one atmosphere [m3/kg]."""
    return GAS_CONSTANT * temperature / ATMOSPHERE / float(fuel.molar_mass(PROPANE))


def ours() -> dict[str, float]:
    """Our number for every key of the table, in the table's unit."""
    per_gallon = pounds_per_gallon(PROPANE, 60.0)
    at_fifteen = float(fuel.liquid_density(FIFTEEN, PROPANE))
    metered = 12.2 + FREEZING
    per_pound = ideal_volume(SIXTY) * POUND / CUBIC_FOOT
    return {
        "propane boiling": boiling_point(PROPANE),
        "butane boiling": boiling_point(N_BUTANE),
        "propane pounds per gallon": per_gallon,
        "propane pounds per gallon at 40": pounds_per_gallon(PROPANE, 40.0),
        "propane pounds per gallon at 50": pounds_per_gallon(PROPANE, 50.0),
        "butane pounds per gallon at 40": pounds_per_gallon(N_BUTANE, 40.0),
        "butane pounds per gallon at 50": pounds_per_gallon(N_BUTANE, 50.0),
        "commercial butane pounds per gallon": pounds_per_gallon(
            typical("commercial butane"), 60.0
        ),
        "propane shrinks": pounds_per_gallon(PROPANE, 40.0) / per_gallon,
        "propane gravity": fuel.liquid_density(SIXTY, PROPANE) / WATER_AT_60F,
        "propane vapor gravity": fuel.molar_mass(PROPANE) / MOLAR_MASS_AIR,
        "butane vapor gravity": fuel.molar_mass(N_BUTANE) / MOLAR_MASS_AIR,
        "propane kilograms per liter": at_fifteen / 1e3,
        "propane latent": latent_heat(PROPANE),
        "propane latent per gallon": latent_heat(PROPANE) * per_gallon,
        "butane latent": latent_heat(N_BUTANE),
        "propane vapor per pound": per_pound,
        "propane vapor per gallon": per_pound * per_gallon,
        "propane vapor per kilogram": real_volume(FIFTEEN),
        "propane vapor per liter": real_volume(FIFTEEN) * at_fifteen / 1e3,
        "propane expansion": real_volume(TWENTY) * at_fifteen,
        "propane metered": 1e3
        / (real_volume(metered, 104214.0) * fuel.liquid_density(metered, PROPANE)),
        "20 lb": 20.0 / per_gallon,
        "20 lb heat": 20.0 * gross_heating_value(PROPANE) * POUND / BTU / 1e3,
    }


def checks() -> tuple[Check, ...]:
    """Every row of the table."""
    values = ours()
    return tuple(printed(SUBJECT, row, values[row["key"]]) for row in rows("properties"))
