"""What the comparisons are built of: rounding, closed forms, the demo shelter, known facts."""

import doctest
import importlib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from coldsoak.checks import heating, pressure, tanks, units, vaporization
from coldsoak.checks.fuels import PROPANE, worst
from coldsoak.checks.lone import Lone, steady_heat
from coldsoak.checks.printed import printed
from coldsoak.checks.table import half_digit, rows
from coldsoak.rig.read import read_trip

MODULES = ("table", "printed", "units", "fuels")
DEMO = Path(__file__).parents[2] / "examples/demo/trip.toml"


@pytest.mark.parametrize("module", MODULES)
def test_examples_in_the_docstrings_run(module) -> None:
    found = doctest.testmod(importlib.import_module(f"coldsoak.checks.{module}"))
    assert found.attempted
    assert not found.failed


@pytest.mark.parametrize(
    ("text", "half"), [("24.5", 0.05), ("4.20", 0.005), ("113000", 0.5), ("0.040", 0.0005)]
)
def test_half_of_the_last_digit_is_what_rounding_may_take(text, half) -> None:
    assert half_digit(text) == pytest.approx(half)


def test_a_row_is_missed_by_more_than_its_rounding_and_allowance() -> None:
    row = {
        "what": "invented", "theirs": "4.20", "unit": "kg", "allowance": "0.01", "why": "invented",
        "source": "invented", "status": "published",
    }  # fmt: skip
    # 0.005 of 4.20 by rounding and 1 % on top: 0.047
    assert printed("subject", row, 4.246).passed
    assert not printed("subject", row, 4.248).passed
    assert not printed("subject", row | {"allowance": ""}, 4.206).passed


def test_a_range_is_left_at_its_ends() -> None:
    row = {
        "what": "invented", "theirs": "268 .. 277", "unit": "-", "allowance": "", "why": "",
        "source": "invented", "status": "published",
    }  # fmt: skip
    assert printed("subject", row, 268.01).passed
    assert printed("subject", row, 276.99).passed
    assert not printed("subject", row, 267.9).passed
    assert not printed("subject", row, 277.1).passed


def test_the_chamber_holds_the_shelter_and_furnace_of_the_demo_trip() -> None:
    demo, chamber = read_trip(DEMO), heating.chamber()
    # the chamber has no sun
    assert chamber.shelter == replace(demo.shelter, sun_aperture=0.0)
    furnace = {appliance.name: appliance for appliance in demo.appliances}["furnace"]
    for name in ("input", "room_share", "differential", "minimum_on", "minimum_off", "purge"):
        assert getattr(chamber.appliances[0], name) == getattr(furnace, name), name


def test_the_closed_form_ends_at_gain_over_loss() -> None:
    trip = heating.tight(heating.chamber())
    end = heating.two_nodes(trip, 293.15, 1000.0, np.array([0.0, 1e7]))
    assert end[:, 0] == pytest.approx([293.15, 293.15])
    assert end[:, 1] - heating.outside() == pytest.approx(1000.0 / trip.shelter.ua_air)


def test_two_nodes_that_are_one_cool_with_one_time_constant() -> None:
    trip = heating.tight(heating.chamber())
    shelter = replace(trip.shelter, coupling=1e7)
    lag = (shelter.light_capacity + shelter.heavy_capacity) / shelter.ua_air
    warm = heating.two_nodes(replace(trip, shelter=shelter), 293.15, 0.0, np.array([lag]))
    above = (293.15 - heating.outside()) / np.e
    assert warm[:, 0] - heating.outside() == pytest.approx([above, above], rel=1e-3)


def test_pure_propane_has_23_7_psig_at_0_degf_and_commercial_propane_more_or_less() -> None:
    assert pressure.gauge(0.0, PROPANE) == pytest.approx(23.7, abs=0.05)
    # handbooks and data sheets print 24.5 to 31
    assert pressure.gauge(0.0, worst(pressure.GRADE)) < 24.5
    assert pressure.gauge(0.0, pressure.lightest()) > 31.0
    assert pressure.gauge(100.0, pressure.lightest()) == pytest.approx(pressure.LIMIT)


FILLED = [row for row in rows("vaporization") if float(row["propane_lb"]) >= 50.0]


@pytest.mark.parametrize("row", FILLED, ids=vaporization.what)
def test_no_rate_of_the_handbook_lasts_a_night(row) -> None:
    to_regulator = vaporization.hours_to(row, vaporization.REGULATOR)
    to_nothing = vaporization.hours_to(row, 0.0)
    assert 2.2 < to_regulator < to_nothing < 4.2


@pytest.mark.parametrize("row", rows("vaporization"), ids=vaporization.what)
def test_the_lump_is_slower_with_heat_through_the_wall(row) -> None:
    regulator = vaporization.REGULATOR
    alone = vaporization.store_alone(row, regulator)
    assert vaporization.with_tables_wall(row, regulator) > alone > 0.0


def test_the_closed_form_of_the_lump_is_what_small_steps_give() -> None:
    row = vaporization.row_of("100", "0")
    lasting, drop, full = vaporization.lump(row, vaporization.REGULATOR)
    # theta' = (1 - theta/full) / (lasting - t), theta and full in units of L/c
    theta, seconds, step = 0.0, 0.0, 0.1
    while theta < drop:
        theta += step * (1.0 - theta / full) / (lasting - seconds)
        seconds += step
    found = vaporization.with_tables_wall(row, vaporization.REGULATOR)
    assert seconds == pytest.approx(found, rel=1e-3)  # Euler's steps of 0.1 s


def test_wind_and_contents_raise_the_steady_rate() -> None:
    full = Lone("100 lb", 45.0, units.fahrenheit(0.0))
    assert steady_heat(full, 0.0, 2.0) > steady_heat(full, 0.0) > 0.0
    assert steady_heat(full._replace(contents=10.0), 0.0) < steady_heat(full, 0.0)
    # liquid at the temperature of the air takes no heat
    assert steady_heat(full, pressure.gauge(0.0, PROPANE) * units.PSI) == pytest.approx(0, abs=1e-6)


def test_a_tank_of_the_table_holds_its_gallons() -> None:
    # outside dimensions, from memory: the nominal water capacity within 15 %
    for row in rows("tanks"):
        tank = tanks.tank_of(row["gallons"])
        volume = tanks.inner_volume(tanks.body(tank)) / units.GALLON
        assert volume == pytest.approx(tank.gallons, rel=0.15), row
