"""The outside film with radiation against the surface resistances that building codes print."""

from coldsoak.checks.check import Check
from coldsoak.checks.printed import printed
from coldsoak.checks.table import Row, rows
from coldsoak.checks.units import ATMOSPHERE, FREEZING
from coldsoak.physics.film import Outside, Wall, convection, radiation
from coldsoak.rig.units import scale

SUBJECT = "surface resistance"

EMISSIVITY = 0.9


def resistance(row: Row) -> float:
    """Resistance [m2K/W] between air and a colder upright surface that sees air's temperature."""
    air = float(row["air_C"]) + FREEZING
    difference = float(row["difference_K"])
    outside = Outside(air, float(row["wind_m_s"]), 0.0, air, 0.0, ATMOSPHERE)
    height, diameter = float(row["height_m"]), float(row["diameter_m"])
    wall = Wall(True, height, diameter, 2e-3, 50.0, EMISSIVITY, 0.0, 0.0, 0.0)
    film, _ = convection(air - difference, outside, wall)
    radiated = radiation(air - difference, outside, wall) / difference
    return 1.0 / (film + radiated)


def checks() -> tuple[Check, ...]:
    """Every row of the table."""
    return tuple(
        printed(SUBJECT, row, resistance(row) / scale(row["unit"], "thermal_resistance").factor)
        for row in rows("films")
    )
