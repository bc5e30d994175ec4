"""What the catalogue's cylinders hold, against codes and against what they are sold with."""

from coldsoak.checks.check import Check
from coldsoak.checks.fuels import PROPANE
from coldsoak.checks.printed import printed
from coldsoak.checks.table import Row, rows
from coldsoak.checks.units import POUND, fahrenheit
from coldsoak.physics.fuel import liquid_density
from coldsoak.rig.catalogue import catalogue
from coldsoak.rig.filling import WATER_AT_60F, Limits, filling_density, limits
from coldsoak.rig.read import parse_trip
from coldsoak.rig.units import parse

SUBJECT = "vessels and filling"

EXAMPLE_GRAVITY = 0.510
"""Specific gravity of the propane in the code's example of a fixed level gauge."""


def water_capacity(size: str) -> float:
    """Water capacity of a catalogue entry [m3]."""
    return parse(catalogue("cylinders")[size].values["water_capacity"].value, "volume")


def limits_of(size: str, unit: str) -> Limits:
    """Filling limits of a catalogue entry [kg]: HD-5 in the US sizes, else propane."""
    grade = "HD-5" if unit == "lb" else "pure propane"
    trip = parse_trip(
        f'[trip]\nweather = {{ temperature = "0 degC" }}\n[fuel]\nblend = "{grade}"\n'
        f'[[cylinder]]\nsize = "{size}"\ncontents = "1 kg"\n'
    )
    return limits(trip.cylinders[0].water_capacity, trip.fuel)


def gauge_example() -> float:
    """Volume [gal] that the weight limit of a tank of 100 gal takes at 40 degF, as pure propane."""
    by_weight = filling_density(EXAMPLE_GRAVITY) * WATER_AT_60F
    return 100.0 * by_weight / float(liquid_density(fahrenheit(40.0), PROPANE))


def ours(row: Row) -> float:
    """Our number for a row, in its unit."""
    mass = POUND if row["unit"] == "lb" else 1.0
    match row["key"]:
        case "dip tube":
            return gauge_example()
        case "water":
            return water_capacity(row["size"]) * WATER_AT_60F / mass
        case "limit by weight":
            return limits_of(row["size"], row["unit"]).by_weight / mass
        case "limit by volume":
            return limits_of(row["size"], row["unit"]).by_volume / mass
    raise LookupError(row["key"])


def checks() -> tuple[Check, ...]:
    """Every row of the table."""
    return tuple(printed(SUBJECT, row, ours(row)) for row in rows("filling"))
