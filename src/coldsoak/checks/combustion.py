"""Air, products and heat of combustion against stoichiometry, codes and data sheets."""

from coldsoak.checks.check import Check
from coldsoak.checks.fuels import N_BUTANE, PROPANE
from coldsoak.checks.printed import printed
from coldsoak.checks.properties import FIFTEEN, SIXTY, ideal_volume, pounds_per_gallon
from coldsoak.checks.table import rows
from coldsoak.checks.units import BTU, CUBIC_FOOT, OUNCE, POUND
from coldsoak.physics import combustion

SUBJECT = "combustion"

KILOWATT_HOUR = 3.6e6
"""[J]"""


def ours() -> dict[str, float]:
    """Our number for every key of the table, in the table's unit."""
    heat = float(combustion.gross_heating_value(PROPANE))
    per_pound = heat * POUND / BTU
    return {
        "carbon dioxide": combustion.carbon_dioxide_per_kg(PROPANE),
        "water": combustion.water_per_kg(PROPANE),
        "oxygen": combustion.oxygen_per_kg(PROPANE),
        "air by volume": combustion.air_per_mol(PROPANE),
        "butane air by volume": combustion.air_per_mol(N_BUTANE),
        "water per heat": combustion.water_per_kg(PROPANE) / heat * 1000.0 * BTU / OUNCE,
        "carbon dioxide per heat": combustion.carbon_dioxide_per_kg(PROPANE) / heat * KILOWATT_HOUR,
        "heat per pound": per_pound,
        "heat per gallon": per_pound * pounds_per_gallon(PROPANE, 60.0),
        "heat per foot": heat / ideal_volume(SIXTY) * CUBIC_FOOT / BTU,
        "heat per meter": heat / ideal_volume(FIFTEEN) / 1e6,
        "heat per kilogram": heat / 1e6,
        "butane heat per pound": combustion.gross_heating_value(N_BUTANE) * POUND / BTU,
    }


def checks() -> tuple[Check, ...]:
    """Every row of the table."""
    values = ours()
    return tuple(printed(SUBJECT, row, values[row["key"]]) for row in rows("combustion"))
