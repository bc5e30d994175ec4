"""A camper in the coldest three days of two typical years that pvlib carries.

The files are TMY3 (Wilcox & Marion 2008, NREL/TP-581-43156): Sand Point, Alaska, 703165, and
Greensboro, North Carolina, 723170. The camper, its people and its cylinders are invented.
"""

from datetime import datetime
from functools import cache
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pvlib
import pytest
from trips import FURNACE, PEOPLE, SHELTER, cylinder, parsed

from coldsoak.choose.plan import Planned, make_plan
from coldsoak.physics.shelter import leakage_conductance
from coldsoak.rig.trip import Trip
from coldsoak.weather.read import read_weather
from coldsoak.weather.table import WeatherTable

DATA = Path(pvlib.__file__).parent / "data"
HOURS = 72


class Year(NamedTuple):
    """A file, its place, and where the coldest 72 hours of it start."""

    file: str
    place: str
    start: str


YEARS = {
    "Sand Point": Year(
        "703165TY.csv",
        '{ elevation = "7 m", latitude = 55.317, longitude = -160.517 }',
        "2026-02-18T12:00:00",
    ),
    "Greensboro": Year(
        "723170TYA.CSV",
        '{ elevation = "273 m", latitude = 36.1, longitude = -79.95 }',
        "2026-02-03T08:00:00",
    ),
}
SMALL = (cylinder(), cylinder("B", role="spare"))
LARGE = (cylinder(size="30 lb", contents="28 lb"), cylinder("B", role="spare"))


@cache
def weather_in(name: str) -> WeatherTable:
    year = YEARS[name]
    return read_weather(
        Path(year.file),
        start=datetime.fromisoformat(year.start),
        length=HOURS * 3600.0,
        place=parsed(cylinder(), place=year.place).place,
        folder=DATA,
    )


def trip_in(name: str, cylinders: tuple[str, ...]) -> Trip:
    year = YEARS[name]
    tables = (*cylinders, FURNACE, SHELTER, PEOPLE)
    return parsed(*tables, start=year.start, length=f"{HOURS} h", place=year.place)


@cache
def planned_in(name: str, cylinders: tuple[str, ...] = SMALL) -> Planned:
    return make_plan(trip_in(name, cylinders), weather_in(name))


years = pytest.mark.parametrize("name", YEARS)


@years
def test_the_trip_lies_in_the_coldest_72_hours(name: str) -> None:
    year = YEARS[name]
    frame, _ = pvlib.iotools.read_tmy3(DATA / year.file, coerce_year=2026, map_variables=True)
    last = frame["temp_air"].rolling(HOURS).mean().argmin()
    # Rows are stamped with the end of their hour.
    first_hour_ends = frame.index[last - HOURS + 1]
    assert first_hour_ends.tz_localize(None).hour == int(year.start[11:13]) + 1
    assert first_hour_ends.strftime("%Y-%m-%d") == year.start[:10]
    assert weather_in(name).air.min() == pytest.approx(
        273.15 + frame["temp_air"].iloc[last - HOURS + 1 : last + 1].min(), abs=1e-6
    )


@years
def test_the_air_is_that_of_the_file(name: str) -> None:
    lowest, mean = {"Sand Point": (-10.6, -8.2), "Greensboro": (-16.7, -9.4)}[name]
    air = weather_in(name).air - 273.15
    assert air.min() == pytest.approx(lowest, abs=0.05)
    assert air.mean() == pytest.approx(mean, abs=0.1)


@years
def test_the_camper_burns_what_it_loses(name: str) -> None:
    weather, plan = weather_in(name), planned_in(name).plan
    shelter = trip_in(name, SMALL).shelter
    assert shelter is not None
    air = float(weather.air.mean())
    wind = shelter.wind_factor * float(weather.wind.mean())
    pressure = float(weather.station_pressure.mean())
    leak = leakage_conductance(shelter.leakage_area, 291.15, air, wind, pressure)
    lost = (shelter.ua_air + leak) * (291.15 - air) - 2 * 72.0
    expected = lost / 0.75 * HOURS * 3600.0 / 50.3e6
    # 10 %: the minimum time of the flame carries the room half a kelvin or more above 18 degC,
    # and wind and frost do not go by their means.
    assert plan.fuel.burned_kg == pytest.approx(expected, rel=0.10)
    assert plan.fuel.burned_kg > expected


@years
def test_one_cylinder_just_lasts_and_a_spare_is_no_luxury(name: str) -> None:
    """8 kg of the 8.4 kg are burned: with 3 K less or 3 % less it would not."""
    plan = planned_in(name).plan
    assert plan.verdict == "thin"
    assert plan.first_failure is None
    assert plan.cylinders[0].left_kg < 0.6
    assert plan.shelter.lowest_inside_C > 16.5


@years
def test_a_larger_cylinder_holds(name: str) -> None:
    plan = planned_in(name, LARGE).plan
    assert plan.verdict == "holds"
    assert plan.swaps == ()
    assert plan.cylinders[0].left_kg > 4.0


@years
def test_the_liquid_cools_below_the_air_but_not_to_its_limit(name: str) -> None:
    plan, coldest = planned_in(name, LARGE).plan, weather_in(name).air.min() - 273.15
    # Boiling takes 0.8 % of the heat of the gas (404 kJ/kg of 50.3 MJ/kg): 13 W on average, 38 W
    # while it burns, from half a square meter with 5 to 15 W/m2K: 2 to 10 K, and a clear sky more.
    assert coldest - 12.0 < plan.cylinders[0].lowest_liquid_C < coldest
    assert plan.cylinders[0].lowest_margin_kPa > 30.0


def test_wind_makes_a_warm_cylinder_and_a_cold_clear_night_a_frosty_one() -> None:
    """Sand Point has 9.5 m/s on average, Greensboro 2.6 m/s and frost."""
    windy, calm = planned_in("Sand Point", LARGE), planned_in("Greensboro", LARGE)
    assert windy.plan.stores.frost_kJ < calm.plan.stores.frost_kJ
    below = [
        float(np.mean(planned.series.air - planned.series.liquid[:, 0]))
        for planned in (windy, calm)
    ]
    assert 0.0 < below[0] < below[1]


@years
def test_the_books_close(name: str) -> None:
    balance = planned_in(name).plan.balance
    assert balance.mass_rel <= 1e-6
    assert balance.energy_rel <= 1e-6
