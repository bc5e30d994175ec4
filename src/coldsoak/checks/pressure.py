"""Vapor pressure against what handbooks, codes and data sheets print.

Printed pressures of "propane" are those of commercial propane, which is no one substance. At 0 degF
pure propane has 23.7 psig, handbooks and data sheets say 24.5 to 31.
"""

from math import log10

from coldsoak.checks.check import Check
from coldsoak.checks.fuels import N_BUTANE, PROPANE, mixture, pressure, typical, worst
from coldsoak.checks.printed import status, strain
from coldsoak.checks.table import Row, half_digit, rows
from coldsoak.checks.units import ATMOSPHERE, FREEZING, PSI, fahrenheit, psi_gauge
from coldsoak.physics.fuel import Vector, saturation_pressure

SUBJECT = "vapor pressure"
BLENDS = ("70/30", "50/50", "30/70")
GRADE = "commercial propane"

LIMIT = 208.0
"""Most gauge pressure of commercial propane at 100 degF, ASTM D1835 [psi]."""

RAOULT = 0.05
"""Raoult's law is up to 5 % above our mixture of propane and n-butane, which tests hold to 1.5 % of
CoolProp's; most of it at 50/50 and 110 degF."""


def gauge(degrees: float, liquid: Vector) -> float:
    """Gauge pressure [psi] over a boiling liquid at a temperature [degF]."""
    return psi_gauge(pressure(fahrenheit(degrees), liquid))


def lightest() -> Vector:
    """Propane with so much ethane that it has the most pressure that ASTM D1835 allows."""
    low, high = 0.0, 0.2
    for _ in range(40):
        ethane = 0.5 * (low + high)
        allowed = gauge(100.0, mixture({"ethane": ethane, "propane": 1.0 - ethane})) < LIMIT
        low, high = (ethane, high) if allowed else (low, ethane)
    return mixture({"ethane": low, "propane": 1.0 - low})


def commercial(row: Row, what: str) -> Check:
    """A printed pressure of commercial propane against our typical one.

    The tolerance is the distance to what the standard allows on their side.
    """
    degrees, theirs = float(row["temperature_F"]), float(row["pressure_psig"])
    ours = gauge(degrees, typical(GRADE))
    least, most = (gauge(degrees, liquid) for liquid in (worst(GRADE), lightest()))
    end = most if theirs > ours else least
    return Check(
        subject=SUBJECT,
        what=f"{what}, {degrees:g} degF: ours typical, pure propane "
        f"{gauge(degrees, PROPANE):.1f} psig",
        source=row["source"],
        ours=ours,
        theirs=theirs,
        unit="psig",
        tolerance=abs(end - ours) / theirs,
        why=f"commercial propane is no one substance; by ASTM D1835 ours may have {least:.1f} to "
        f"{most:.1f} psig here",
        status=status(row),
        informative=True,
    )


def pure(row: Row, what: str, liquid: Vector) -> Check:
    """A printed pressure of one substance."""
    degrees, text = float(row["temperature_F"]), row["pressure_psig"]
    reason = row.get("why")
    return Check(
        subject=SUBJECT,
        what=f"{what}, {degrees:g} degF",
        source=row["source"],
        ours=gauge(degrees, liquid),
        theirs=float(text),
        unit="psig",
        tolerance=half_digit(text) / float(text) + float(row.get("allowance") or 0.0),
        why="half of the last printed digit" + (f", and {reason}" if reason else ""),
        status=status(row),
    )


def blend(row: Row) -> Check:
    """A handbook's mixture, its shares read as moles of propane and n-butane."""
    degrees, text = float(row["temperature_F"]), row["pressure_psig"]
    parts = [float(part) for part in row["fuel"].split("/")]
    liquid = mixture(dict(zip(("propane", "n-butane"), parts, strict=True)))
    return Check(
        subject=SUBJECT,
        what=f"{row['fuel']} propane/n-butane by moles, absolute, {degrees:g} degF (printed "
        f"{text} psig; farthest of its column)",
        source=row["source"],
        ours=pressure(fahrenheit(degrees), liquid) / PSI,
        theirs=absolute(row),
        unit="psi",
        tolerance=RAOULT + excess(row["temperature_F"]),
        why="theirs is remembered; Raoult's law, which it follows, is up to "
        f"{100.0 * RAOULT:g} % above a real mixture, and the handbook's own propane is above pure "
        "propane here",
        status=status(row),
        informative=True,
    )


def absolute(row: Row) -> float:
    """A printed gauge pressure as an absolute one [psi]."""
    return float(row["pressure_psig"]) + ATMOSPHERE / PSI


def excess(degrees: str) -> float:
    """How far the handbook's propane is from pure propane at a temperature [degF], relative."""
    own = pressure(fahrenheit(float(degrees)), PROPANE) / PSI
    return abs(absolute(at(degrees, "propane")) / own - 1.0)


def of_handbook(fuel: str) -> list[Row]:
    """The handbook's rows of one fuel."""
    return [row for row in rows("handbook_pressures") if row["fuel"] == fuel]


def at(degrees: str, fuel: str) -> Row:
    """The handbook's row of one temperature [degF] and fuel."""
    return next(row for row in of_handbook(fuel) if row["temperature_F"] == degrees)


def farthest(checks: list[Check]) -> Check:
    """The one that takes up most of its tolerance."""
    return max(checks, key=strain)


def antoine(celsius: float) -> float:
    """log10(p/mmHg) = 6.82973 - 813.2 / (248 + t), as quoted in an instrument manual [Pa]."""
    return float(10.0 ** (6.82973 - 813.2 / (248.0 + celsius))) * ATMOSPHERE / 760.0


def four_constants(celsius: float) -> float:
    """log10(p/mmHg) = 36.007 - 1737.2/T - 11.666 log10 T + 0.0085187 T, as quoted there [Pa]."""
    kelvin = celsius + FREEZING
    power = 36.007 - 1737.2 / kelvin - 11.666 * log10(kelvin) + 0.0085187 * kelvin
    return float(10.0**power) * ATMOSPHERE / 760.0


STATED = 0.0046
"""Mean error that the manual states of the equation with four constants, over 105 points."""


OWN = "the mean error stated for it"
OF_OTHER = "no accuracy is stated for it: that of the other equation"
FOUR = "four constants (farthest of -45 to 40 degC)"


def correlation(what: str, theirs: float, celsius: float, why: str) -> Check:
    """A published equation for pure propane at one temperature."""
    return Check(
        subject=SUBJECT,
        what=f"pure propane by an equation with {what}, {celsius:g} degC",
        source="two published equations for propane, quoted in an instrument manual",
        ours=saturation_pressure(1, celsius + FREEZING) / 1e3,
        theirs=theirs / 1e3,
        unit="kPa",
        tolerance=STATED,
        why=why,
        status="published",
    )


def checks() -> tuple[Check, ...]:
    """Pure propane, commercial propane, the handbook's columns, butane, and two equations."""
    points = rows("printed_pressures")
    pures = {"pure propane": PROPANE, "pure n-butane": N_BUTANE}
    return (
        *(pure(row, row["fuel"], pures[row["fuel"]]) for row in points if row["fuel"] in pures),
        commercial(at("0", "propane"), "propane of the handbooks"),
        *(commercial(row, GRADE) for row in points if row["fuel"] == GRADE),
        farthest([commercial(r, "handbook's propane, farthest") for r in of_handbook("propane")]),
        pure(at("70", "propane"), "handbook's propane against pure propane", PROPANE),
        pure(at("70", "butane"), "handbook's butane against pure n-butane", N_BUTANE),
        *(farthest([blend(row) for row in of_handbook(name)]) for name in BLENDS),
        correlation("three constants", antoine(-20.0), -20.0, OF_OTHER),
        farthest([correlation(FOUR, four_constants(t), t, OWN) for t in range(-45, 41, 5)]),
    )
