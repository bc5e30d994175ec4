"""An invented plan and its series for the tests of the faces; no number here means anything."""

from datetime import datetime, timedelta
from typing import Any

import numpy as np

from coldsoak.cautions import Facts, cautions_for
from coldsoak.choose.answer import (
    Balance,
    Caution,
    CylinderEnd,
    Failure,
    Fuel,
    Plan,
    ShelterEnd,
    Stores,
    Swap,
)
from coldsoak.night.series import Series

START = datetime(2026, 1, 16, 16, 0)
HOURS = 64.0
FAILS_AT = 36.4
STEP = 600.0


def moment(hours: float) -> str:
    """A time of the trip as the plan writes it."""
    return (START + timedelta(hours=hours)).isoformat()


def invented_plan(**changes: Any) -> Plan:
    """Three cylinders, a furnace that locks out in the second night."""
    failure = Failure(
        hours=FAILS_AT,
        time=moment(FAILS_AT),
        cause="vapor-limited",
        what="cylinder B is too cold to feed the regulator and the furnace locks out.",
    )
    facts = Facts(
        cylinders=True,
        burning=True,
        occupied=True,
        sleeping=True,
        too_cold=True,
        changes=True,
        locks_out=True,
    )
    plan = Plan(
        trip="Invented hut, three nights",
        verdict="fails",
        first_failure=failure,
        as_packed_failure=failure.model_copy(update={"hours": 21.3, "time": moment(21.3)}),
        chance=None,
        fuel=Fuel(
            start_kg=21.2,
            burned_kg=12.34,
            left_kg=8.86,
            residue_kg=0.0,
            by_appliance_kg={"furnace": 11.9, "stove": 0.44},
        ),
        cylinders=tuple(
            CylinderEnd(
                name=name,
                left_kg=left,
                lowest_liquid_C=coldest,
                lowest_gauge_kPa=gauge,
                lowest_margin_kPa=gauge - 34.5,
                failed_at_hours=failed,
            )
            for name, left, coldest, gauge, failed in (
                ("A", 0.31, -37.26, 34.5, 21.3),
                ("B", 3.55, -38.9, 34.1, FAILS_AT),
                ("C", 5.0, -27.0, 93.2, None),
            )
        ),
        stores=Stores(
            vapor_kJ=41.0, sensible_kJ=402.2, wall_kJ=3811.0, frost_kJ=120.5, heater_kJ=0.0
        ),
        swaps=(
            Swap(
                hours=20.0,
                time=moment(20.0),
                from_="A",
                to="B",
                why="A would run short in the night",
            ),
        ),
        shelter=ShelterEnd(lowest_inside_C=-11.3, freezing_at_hours=41.2),
        battery=None,
        air=None,
        lines=(),
        balance=Balance(mass_rel=1.23456789e-9, energy_rel=4.5e-8),
        cautions=tuple(Caution(code=code, text=text) for code, text in cautions_for(facts)),
        notes=(
            "The film of air at the cylinder is uncertain by a factor of two.",
            "Lines and regulator droop are not modelled yet.",
            "The battery is not modelled yet.",
        ),
    )
    return plan.model_copy(update=changes)


def invented_series(hours: float = HOURS, cylinders: int = 3) -> Series:
    """A series of the shape that the march gives: cold nights, a band that shrinks."""
    n = int(hours * 3600.0 / STEP) + 1
    seconds = STEP * np.arange(n)
    day = 2.0 * np.pi * (seconds / 86400.0 + 16.0 / 24.0 - 15.0 / 24.0)
    air = 253.15 + 5.0 * np.cos(day)
    asked = np.where(seconds < 0.7 * seconds[-1], 2600.0 - 900.0 * np.cos(day), 600.0)
    left = np.clip(1.0 - seconds / seconds[-1] * 0.9, 0.0, 1.0)
    wall = 900.0 + 2500.0 * left + 400.0 * np.cos(day)
    return Series(
        seconds=seconds,
        air=air,
        wind=np.full(n, 1.5),
        inside=291.15 - 25.0 * np.clip((seconds / 3600.0 - FAILS_AT) / 20.0, 0.0, 1.0),
        asked=asked,
        vapor_can=150.0 + 200.0 * left,
        sensible_can=1400.0 * left,
        wall_can=wall,
        liquid=np.repeat(air[:, None] - 12.0, cylinders, axis=1),
        gauge=np.full((n, cylinders), 60e3),
        left=np.repeat(8.0 * left[:, None], cylinders, axis=1),
        open_cylinder=np.arange(cylinders)[None, :] == (np.arange(n)[:, None] > n // 2),
    )


def invented_sun(series: Series) -> np.ndarray:
    """Elevation of the sun at the rows of the series [rad], up from 8:00 to 17:00."""
    hour = (seconds_of_day(series.seconds) / 3600.0) % 24.0
    return np.where((hour > 8.0) & (hour < 17.0), 0.2, -0.5)


def seconds_of_day(seconds: np.ndarray) -> np.ndarray:
    """Seconds since midnight by the trip's clock."""
    return seconds + 3600.0 * START.hour
