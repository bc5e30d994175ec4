"""Gas that lines pass, against the capacity tables of the fuel-gas code, and friction factors."""

from coldsoak.checks.check import Check
from coldsoak.checks.fuels import PROPANE
from coldsoak.checks.printed import printed
from coldsoak.checks.table import Row, rows
from coldsoak.checks.units import ATMOSPHERE, BTU_PER_HOUR, INCH, PSI, fahrenheit
from coldsoak.physics import pipecode
from coldsoak.physics.pipe import Gas, Pipe, friction_factor, gas_at, start_pressure
from coldsoak.rig.catalogue import catalogue
from coldsoak.rig.line import bore_of
from coldsoak.rig.units import parse

SUBJECT = "gas lines"

FOOT = 12.0 * INCH
"""[m]"""
DROP = parse("0.5 inH2O", "gauge_pressure")
"""Drop of the low-pressure tables [Pa]."""
OUTLET = ATMOSPHERE + parse("11 inH2O", "gauge_pressure")
"""Pressure at the start of their lines [Pa]."""
HALVINGS = 40
MOST = 3e6
"""More gas than any line of the tables passes [W]."""


def low(size: float, length: float) -> float:
    """Capacity [W] of a bore [in] and length [m] below 1.5 psi."""
    return pipecode.low_pressure_capacity(DROP, size * INCH, length)


def high(size: float, length: float) -> float:
    """Capacity [W] of a bore [in] and length [m] for a drop of 1 psi from 10 psi."""
    start = ATMOSPHERE + 10.0 * PSI
    return pipecode.high_pressure_capacity(start, start - PSI, size * INCH, length)


def csst(size: float, length: float) -> float:
    """Capacity [W] of corrugated tubing of an equivalent hydraulic diameter, by Darcy's law."""
    bore = bore_of(catalogue("lines")[f"CSST EHD {size:.0f}"])
    pipe = Pipe(length, bore.diameter, bore.roughness, bore.friction, 0.0)
    gas = gas_at(fahrenheit(60.0), PROPANE)
    least, most = 0.0, MOST
    for _ in range(HALVINGS):
        middle = 0.5 * (least + most)
        least, most = (middle, most) if _passes(gas, pipe, middle) else (least, middle)
    return least


def _passes(gas: Gas, pipe: Pipe, watts: float) -> bool:
    """Whether a pipe passes gas of a gross heat [W] within the tables' drop."""
    end = OUTLET - DROP
    return bool(start_pressure(gas, pipe, watts / gas.heat, end) <= OUTLET)


CAPACITIES = {"low": low, "high": high, "csst": csst}


def ours(row: Row) -> float:
    """Our number for a row, by the law that its key names."""
    if row["key"] == "friction":
        return float(friction_factor(float(row["length_ft"]), float(row["size"])))
    length = float(row["length_ft"]) * FOOT
    return CAPACITIES[row["key"]](float(row["size"]), length) / BTU_PER_HOUR / 1000.0


def checks() -> tuple[Check, ...]:
    """Every row of the table."""
    return tuple(printed(SUBJECT, row, ours(row)) for row in rows("lines"))
