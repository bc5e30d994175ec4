"""A heater on a cylinder that runs dry ends in a plan; it once warmed the last drops forever."""

import pytest

from coldsoak.choose.plan import make_plan
from coldsoak.rig.read import parse_trip
from coldsoak.weather.read import weather_of

TRIP = """
[trip]
start = 2026-01-16T16:00:00
length = "44 h"
place = {{ elevation = "800 m" }}
weather = {{ temperature = "-20 degC", wind = "1 m/s", humidity = "70 %", sky = "overcast" }}
[fuel]
blend = "{blend}"
[[cylinder]]
size = "20 lb"
contents = "18 lb"
place = "{place}"
heater = {{ power = "{power}", on = "always" }}
[[appliance]]
name = "burner"
kind = "burner"
input = "10000 Btu/h"
use = "always"
"""


@pytest.mark.parametrize("place", ["open", "covered", "locker"])
@pytest.mark.parametrize("power", ["20 W", "60 W", "600 W"])
@pytest.mark.parametrize("blend", ["commercial propane", "HD-5"])
def test_a_heated_cylinder_can_run_dry(place: str, power: str, blend: str) -> None:
    trip = parse_trip(TRIP.format(place=place, power=power, blend=blend))
    plan = make_plan(trip, weather_of(trip)).plan
    assert plan.first_failure is not None
    assert plan.balance.energy_rel < 1e-6
    assert plan.cylinders[0].left_kg < 0.5
