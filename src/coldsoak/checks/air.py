"""The air inside: rules for rooms with open flames, chamber tests, and the closed form."""

import numpy as np

from coldsoak.checks.check import Check
from coldsoak.checks.fuels import PROPANE
from coldsoak.checks.printed import printed
from coldsoak.checks.table import Row, rows
from coldsoak.checks.units import BTU, CUBIC_FOOT, FREEZING
from coldsoak.choose.openings import least_volume, two_openings
from coldsoak.night.air import Limits, Timeline, air_of
from coldsoak.physics.combustion import OXYGEN_IN_AIR, STANDARD_PRESSURE
from coldsoak.physics.opening import vent_flow, vents_of
from coldsoak.physics.roomair import (
    OUTSIDE_CO2,
    ColdSurface,
    Enclosure,
    Made,
    approach,
    dry_moles,
    made_by_flame,
)

SUBJECT = "air inside"

HOUR = 3600.0
HOUSE = 240.0
"""Of the chamber tests [m3]."""
WARM, COLD = 20.0 + FREEZING, -20.0 + FREEZING
"""[K]"""
PER_WATT: Made = made_by_flame(1.0, PROPANE)
"""A flame of propane."""


def flame_for(co2: float, fresh: float) -> float:
    """Gross heat [W] of a propane flame that holds a room at a mole fraction of carbon dioxide.

    The balance at rest: what comes in and is made leaves, `fresh` [mol/s] of dry air coming in.
    """
    dry = PER_WATT.co2 + PER_WATT.oxygen
    return fresh * (co2 - OUTSIDE_CO2) / (PER_WATT.co2 - dry * co2)


def oxygen_at(co2: float) -> float:
    """Oxygen [mol/mol] in a room at rest where a propane flame holds so much carbon dioxide."""
    heat = flame_for(co2, 1.0)
    left = 1.0 + heat * (PER_WATT.co2 + PER_WATT.oxygen)
    return (OXYGEN_IN_AIR + heat * PER_WATT.oxygen) / left


def flow_of_vents(area: float) -> float:
    """Air through two equal vents 1.8 m apart in a calm [m3/s]; `area` of both [m2]."""
    vents = vents_of(np.array([0.5 * area, 0.5 * area]), np.array([0.1, 1.9]))
    return float(vent_flow(vents.stack, vents.wind, WARM, COLD, 0.0))


def ours(row: Row) -> float:
    """Our number for a row, in its unit."""
    match row["key"]:
        case "room":
            return float(row["size"]) * CUBIC_FOOT / least_volume(1.0) / BTU * HOUR
        case "volume":
            return least_volume(1000.0)
        case "opening":
            return 0.5 * two_openings(1000.0) * 1e6
        case "oxygen":
            return 100.0 * oxygen_at(1e-6 * float(row["co2_ppm"]))
        case "heat":
            moles = dry_moles(HOUSE, WARM, 0.0, STANDARD_PRESSURE)
            fresh = moles * float(row["changes_per_h"]) / HOUR
            return 1e-3 * flame_for(1e-6 * float(row["co2_ppm"]), fresh)
        case _:
            return 1e3 * flow_of_vents(1e-4 * float(row["size"]))


def steady(heat: float, exchange: float) -> Timeline:
    """Two hours of a propane flame in air as cold as the room, and as dry as can be."""
    flame = np.array(made_by_flame(heat, PROPANE)) * np.array([1.0, 1.0, 0.0])
    ends = np.ones(2)
    return Timeline(
        seconds=np.array([0.0, 2.0 * HOUR]),
        inside=WARM * ends,
        outside=WARM * ends,
        vapor_pressure=0.0 * ends,
        exchange=exchange * ends,
        made=flame[None, :],
        pressure=STANDARD_PRESSURE,
    )


def closed(what: str, exchange: float) -> tuple[Check, Check]:
    """Carbon dioxide and oxygen after two hours against the closed form, 20 m3, 1 kW."""
    line = steady(1000.0, exchange)
    pane = ColdSurface(0.0, 1.0, 1.0)
    air = air_of(line, Enclosure(20.0, pane, pane), Limits(1.0, 0.0)).air[-1]
    moles = dry_moles(20.0, WARM, 0.0, STANDARD_PRESSURE)
    fresh = dry_moles(exchange, WARM, 0.0, STANDARD_PRESSURE)
    co2, oxygen, _ = line.made[0]
    dry = co2 + oxygen
    theirs = (
        approach(OUTSIDE_CO2, OUTSIDE_CO2, co2, dry, fresh, moles, 2.0 * HOUR),
        approach(OXYGEN_IN_AIR, OXYGEN_IN_AIR, oxygen, dry, fresh, moles, 2.0 * HOUR),
    )
    carbon_dioxide, oxygen_left = (
        Check(
            subject=SUBJECT,
            what=f"1 kW of propane for 2 h in 20 m3, {what}: {name}",
            source="closed form of the single-zone balance",
            ours=float(found) * scale,
            theirs=float(exact) * scale,
            unit=unit,
            tolerance=1e-8,
            why="steps of 30 s of fourth order in a room that takes an hour to change",
            status="reference code",
        )
        for name, found, exact, scale, unit in (
            ("carbon dioxide", air[0], theirs[0], 1e6, "ppm"),
            ("oxygen", air[1], theirs[1], 100.0, "%"),
        )
    )
    return carbon_dioxide, oxygen_left


def checks() -> tuple[Check, ...]:
    """Rules, chamber tests and the closed form."""
    table = tuple(printed(SUBJECT, row, ours(row)) for row in rows("air"))
    return (*table, *closed("closed", 0.0), *closed("5 L/s of fresh air", 5e-3))
