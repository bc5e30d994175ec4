"""Pure propane and butanes on the boiling line against the reference equations of state.

Each check shows the row of the table at which ours is farthest off, measured by its tolerance: the
table's rounding, and the error of our short polynomials.
"""

from collections.abc import Callable
from typing import NamedTuple

from coldsoak.checks.check import Check
from coldsoak.checks.fuels import N_BUTANE, PROPANE
from coldsoak.checks.printed import status, strain
from coldsoak.checks.table import Row, half_digit, rows
from coldsoak.checks.units import FREEZING
from coldsoak.physics import fuel
from coldsoak.physics.fuel import COMPONENTS, MOLAR_MASS, Vector

SUBJECT = "pure fluids on the boiling line"

Property = Callable[[float], float]


def pure_pressure(name: str) -> Property:
    """Saturation pressure [kPa] of one component over temperature [K]."""
    component = COMPONENTS.index(name)
    return lambda temperature: fuel.saturation_pressure(component, temperature) / 1e3


def liquid_density(liquid: Vector) -> Property:
    """Density of the boiling liquid [kg/m3]."""
    return lambda temperature: fuel.liquid_density(temperature, liquid)


def latent_heat(liquid: Vector) -> Property:
    """Latent heat [kJ/kg]."""
    return lambda temperature: fuel.latent_heat(temperature, liquid) / 1e3


def propane_vapor_density(temperature: float) -> float:
    """Density of saturated propane vapor [kg/m3]."""
    own = fuel.saturation_pressure(1, temperature)
    return float(fuel.vapor_density(temperature, own, PROPANE))


def propane_heat_capacity(temperature: float) -> float:
    """Heat capacity of liquid propane at constant pressure [kJ/kgK].

    Ours is that along the boiling line, dh/dT = cp + (v - T dv/dT) dp/dT; the liquid's expansion
    dv/dT is taken along that line too, which leaves out its small compression.
    """
    mass, step = MOLAR_MASS[1], 0.01
    low, high = temperature - step, temperature + step

    def slope(function: Property) -> float:
        return (function(high) - function(low)) / (2.0 * step)

    volume = 1.0 / fuel.liquid_density(temperature, PROPANE)
    expansion = slope(lambda t: 1.0 / fuel.liquid_density(t, PROPANE))
    rise = slope(lambda t: fuel.saturation_pressure(1, t))
    along = fuel.liquid_heat_capacity(1, temperature) / mass
    return float(along - (volume - temperature * expansion) * rise) / 1e3


SHORT = "the error of our polynomials"


class Column(NamedTuple):
    """A column of the table, our own function for it, and the error we allow it (relative)."""

    name: str
    what: str
    unit: str
    ours: Property
    error: float
    why: str = SHORT


COLUMNS = (
    Column("propane_pressure_kPa", "propane, pressure", "kPa", pure_pressure("propane"), 2e-5),
    Column("n_butane_pressure_kPa", "n-butane, pressure", "kPa", pure_pressure("n-butane"), 2e-5),
    Column(
        "isobutane_pressure_kPa", "isobutane, pressure", "kPa", pure_pressure("isobutane"), 2e-5
    ),
    Column(
        "propane_liquid_density_kg_m3",
        "propane, density of the liquid",
        "kg/m3",
        liquid_density(PROPANE),
        1e-4,
    ),
    Column(
        "n_butane_liquid_density_kg_m3",
        "n-butane, density of the liquid",
        "kg/m3",
        liquid_density(N_BUTANE),
        1e-4,
    ),
    Column(
        "propane_vapor_density_kg_m3",
        "propane, density of the vapor",
        "kg/m3",
        propane_vapor_density,
        2e-3,
        "our series in pressure, which ends with its third term",
    ),
    Column(
        "propane_latent_heat_kJ_kg", "propane, latent heat", "kJ/kg", latent_heat(PROPANE), 3e-4
    ),
    Column(
        "n_butane_latent_heat_kJ_kg", "n-butane, latent heat", "kJ/kg", latent_heat(N_BUTANE), 3e-4
    ),
    Column(
        "propane_liquid_cp_kJ_kgK",
        "propane, heat capacity of the liquid",
        "kJ/kgK",
        propane_heat_capacity,
        6e-3,
        "the way from ours, along the boiling line, to theirs, at constant pressure, without the "
        "liquid's compression",
    ),
)


def digit(column: str) -> float:
    """Half of the last digit that a column prints anywhere; ends of zeros are not printed."""
    return min(half_digit(row[column]) for row in rows("saturation"))


def check_row(row: Row, column: Column) -> Check:
    """One value of the table against ours."""
    theirs = float(row[column.name])
    celsius = float(row["temperature_C"])
    return Check(
        subject=SUBJECT,
        what=f"{column.what}, {celsius:g} degC (farthest of {len(rows('saturation'))} rows)",
        source=row["source"],
        ours=column.ours(celsius + FREEZING),
        theirs=theirs,
        unit=column.unit,
        tolerance=digit(column.name) / theirs + column.error,
        why=f"half of the last digit, and {100.0 * column.error:g} % for {column.why}",
        status=status(row),
    )


def checks() -> tuple[Check, ...]:
    """The farthest row of every column, measured by its tolerance."""
    return tuple(
        max((check_row(row, column) for row in rows("saturation")), key=strain)
        for column in COLUMNS
    )
