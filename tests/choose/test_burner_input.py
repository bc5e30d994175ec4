"""A burner's true input against its parts: heating value, orifice table, altitude rules."""

import csv
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.choose.burner_input import (
    Input,
    by_orifice,
    by_weight,
    fit_of,
    orifice_area,
    plate_at,
    sea_level,
)
from coldsoak.physics.pipecode import HEATING_VALUE
from coldsoak.physics.sky import station_pressure
from coldsoak.rig.catalogue import drills

PROPANE = (0.0, 1.0, 0.0, 0.0, 0.0)
BTU_PER_HOUR, POUND, INH2O = 0.29307107, 0.45359237, 249.082
TABLE = Path(__file__).parents[1] / "physics" / "orifice_propane.csv"


def exact(value):
    return Input(value, value, value)


def table():
    lines = TABLE.read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if line[0] != "#"))


def test_a_pound_of_propane_is_21600_btu():
    # 21,548 Btu/lb in handbooks is from older values; ISO 6976 gives 21,640
    found = by_weight(exact(POUND), exact(0.0), exact(3600.0), 0.0, PROPANE)
    assert found.value / BTU_PER_HOUR == pytest.approx(21_548, rel=0.006)


def test_the_scale_s_doubt_counts_twice():
    found = by_weight(exact(10.0), exact(9.0), exact(7200.0), 0.05, PROPANE)
    assert found.high / found.value == pytest.approx(1.1)
    assert found.low / found.value == pytest.approx(0.9)


@given(st.floats(0.0, 0.3), st.floats(0.0, 0.2))
def test_the_true_input_lies_between_the_ends(half, doubt):
    start, end = Input(10.0, 10.0 - half, 10.0 + half), exact(9.0)
    found = by_weight(start, end, exact(3600.0), doubt, PROPANE)
    assert 0.0 <= found.low <= found.value <= found.high


@pytest.mark.parametrize(
    "row", [r for r in table() if r["drill"] in drills()], ids=lambda r: r["drill"]
)
def test_an_orifice_gives_the_table_s_flow_times_the_heating_value(row):
    area = orifice_area(drills()[row["drill"]], 1)
    found = by_orifice(area, 11 * INH2O, 0.9, PROPANE, 0.0, 101_325.0)
    heat = float(row["propane_at_11inwc_ft3_per_h"]) * 0.3048**3 / 3600.0 * HEATING_VALUE
    # the issue asks for 0.5 %; the table is printed to three decimals
    assert found.code == pytest.approx(heat, rel=0.005)


@pytest.mark.parametrize("row", table(), ids=lambda r: r["drill"])
def test_drill_sizes_are_those_of_the_table(row):
    if row["drill"] in drills():
        assert drills()[row["drill"]] == pytest.approx(float(row["diameter_in"]) * 0.0254)


def test_physics_gives_three_percent_more_than_the_code_at_sea_level():
    found = by_orifice(orifice_area(7.9e-4, 1), 10 * INH2O, 0.9, PROPANE, 0.0, 101_325.0)
    # propane is 1.55 against air and not 1.5 (-1.6 %), has 2,560 Btu/ft3 at 60 F and not 2,477
    # (+3.4 %), and is denser by the gauge pressure before the orifice (+1.2 %)
    assert found.physics / found.code == pytest.approx(1.030, abs=0.003)


@given(st.floats(0.0, 4000.0))
def test_a_fixed_orifice_loses_with_the_root_of_density(elevation):
    station = float(station_pressure(elevation))
    area = orifice_area(7.9e-4, 1)
    here = by_orifice(area, 10 * INH2O, 0.9, PROPANE, elevation, station)
    low = by_orifice(area, 10 * INH2O, 0.9, PROPANE, 0.0, 101_325.0)
    # density before the orifice holds the gauge pressure too, and is not quite ideal
    assert sea_level(here.physics, station) == pytest.approx(low.physics, rel=0.01)


def test_the_code_derates_more_than_physics():
    plate = plate_at(4689.0, 1450.0, float(station_pressure(1450.0)))
    assert plate.code < plate.physics < plate.sea_level
    assert plate.code / plate.sea_level == pytest.approx(1 - 0.04 * 1450 / 304.8)


@pytest.mark.parametrize(
    ("low", "high", "fit"),
    [
        (98.0, 102.0, "fits"),
        (115.0, 120.0, "over"),
        (70.0, 80.0, "under"),
        (85.0, 115.0, "cannot tell"),
    ],
)
def test_a_plate_fits_within_a_tenth_and_the_doubt_of_the_reading(low, high, fit):
    plate = plate_at(100.0, 0.0, 101_325.0)
    assert fit_of(Input(0.5 * (low + high), low, high), plate, 0.10) == fit


def test_many_orifices_are_their_sum():
    assert orifice_area(1e-3, 4) == pytest.approx(math.pi * 1e-6)
