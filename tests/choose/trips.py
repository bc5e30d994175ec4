"""Small invented trips for the tests of the planner, and their plans."""

from functools import cache

from coldsoak.choose.answer import Plan
from coldsoak.choose.plan import Planned, make_plan
from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import Trip
from coldsoak.weather.read import weather_of

FURNACE = """
[[appliance]]
name = "furnace"
kind = "furnace"
input = "16000 Btu/h"
use = "thermostat"
set = "18 degC"
"""

STOVE = """
[[appliance]]
name = "stove"
kind = "stove"
input = "2 kW"
use = "always"
"""

SHELTER = """
[shelter]
floor = { area = "9.5 m2", U = "0.8 W/m2K" }
surfaces = [{ area = "33.5 m2", U = "0.8 W/m2K" }]
windows = [{ area = "2.2 m2", U = "2.8 W/m2K" }]
leakage = "45 cm2"
"""

PEOPLE = """
[people]
count = 2
asleep = "22:00 .. 07:00"
"""


def constant(degrees: float, wind: float = 1.0) -> str:
    """Inline weather that stays the same."""
    return (
        f'{{ temperature = "{degrees} degC", wind = "{wind} m/s", humidity = "70 %", '
        'sky = "overcast" }'
    )


def cylinder(
    name: str = "A",
    contents: str = "18.5 lb",
    role: str = "supply",
    size: str = "20 lb",
    more: str = "",
) -> str:
    """A cylinder table."""
    return (
        f'\n[[cylinder]]\nname = "{name}"\nsize = "{size}"\ncontents = "{contents}"\n'
        f'role = "{role}"\n{more}\n'
    )


def trip_text(
    *tables: str,
    weather: str = constant(-20.0),
    start: str = "2026-01-16T16:00:00",
    length: str = "14 h",
    fuel: str = '"HD-5"',
    place: str = '{ elevation = "0 m" }',
) -> str:
    """A trip file from its tables."""
    head = (
        f'[trip]\nname = "invented"\nstart = {start}\nlength = "{length}"\nplace = {place}\n'
        f"weather = {weather}\n\n[fuel]\nblend = {fuel}\n"
    )
    return head + "".join(tables)


@cache
def planned(text: str) -> Planned:
    """Plan and series of a trip file's text."""
    trip = parse_trip(text)
    return make_plan(trip, weather_of(trip))


def plan(*tables: str, **trip: str) -> Plan:
    """The plan of a trip made by :func:`trip_text`."""
    return planned(trip_text(*tables, **trip)).plan


def parsed(*tables: str, **trip: str) -> Trip:
    """The trip made by :func:`trip_text`."""
    return parse_trip(trip_text(*tables, **trip))
