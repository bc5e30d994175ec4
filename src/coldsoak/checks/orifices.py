"""Burner orifices against a printed table."""

import math

from coldsoak.checks.check import Check
from coldsoak.checks.printed import printed
from coldsoak.checks.table import Row, rows
from coldsoak.checks.units import CUBIC_FOOT, INCH
from coldsoak.physics.orifice import CODE_DISCHARGE, CODE_GRAVITY, code_orifice_flow
from coldsoak.rig.units import parse

SUBJECT = "burner orifices"


def ours(row: Row) -> float:
    """Propane [ft3/h] through the orifice of a row."""
    area = 0.25 * math.pi * (float(row["diameter_in"]) * INCH) ** 2
    pressure = parse(f"{row['inches']} inH2O", "gauge_pressure")
    flow = code_orifice_flow(area, pressure, CODE_DISCHARGE, CODE_GRAVITY)
    return float(flow) / CUBIC_FOOT * 3600.0


def checks() -> tuple[Check, ...]:
    """Every row of the table."""
    return tuple(printed(SUBJECT, row, ours(row)) for row in rows("orifices"))
