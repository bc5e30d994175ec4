"""The fuel-gas code's equations against the printed capacity tables."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import pipecode

INCH, FOOT, KBTU_PER_HOUR = 0.0254, 0.3048, 1055.05585e3 / 3600.0
INCH_OF_WATER, PSI = 249.082, 6894.757
ROUNDED = 0.015
# The issue asks for 1.5 %; tables are printed to two or three digits, 1.1 % of the smallest values.


def rows(name):
    lines = (Path(__file__).parent / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def case(row):
    return f"{row['length_ft']} ft, {row['inside_in']} in"


@pytest.mark.parametrize(
    "row", rows("pipe_code_low_steel.csv") + rows("pipe_code_low_copper.csv"), ids=case
)
def test_the_low_pressure_tables_are_repeated(row):
    capacity = pipecode.low_pressure_capacity(
        0.5 * INCH_OF_WATER, float(row["inside_in"]) * INCH, float(row["length_ft"]) * FOOT
    )
    assert capacity / KBTU_PER_HOUR == pytest.approx(float(row["kBtu_per_h"]), rel=ROUNDED)


@pytest.mark.parametrize("row", rows("pipe_code_high_copper.csv"), ids=case)
def test_the_high_pressure_table_is_repeated(row):
    start, end = (14.696 + gauge for gauge in (10.0, 9.0))
    capacity = pipecode.high_pressure_capacity(
        start * PSI, end * PSI, float(row["inside_in"]) * INCH, float(row["length_ft"]) * FOOT
    )
    assert capacity / KBTU_PER_HOUR == pytest.approx(float(row["kBtu_per_h"]), rel=ROUNDED)


bores = st.floats(0.004, 0.05)
lengths = st.floats(0.1, 60.0)


@given(st.floats(200.0, 200e3), bores, lengths)
def test_drop_and_capacity_are_one_equation(heat, diameter, length):
    drop = pipecode.low_pressure_drop(heat, diameter, length)
    back = pipecode.low_pressure_capacity(drop, diameter, length)
    assert back == pytest.approx(heat, rel=1e-9)


@given(st.floats(5e3, 200e3), st.floats(0.004, 0.012), st.floats(1.0, 60.0))
def test_at_high_pressure_too(heat, diameter, length):
    squares = pipecode.high_pressure_squares(heat, diameter, length)
    start = (1e10 + squares) ** 0.5
    back = pipecode.high_pressure_capacity(start, 1e5, diameter, length)
    # the difference of squares of 1e10 keeps about 1e-5 of the least drop here
    assert back == pytest.approx(heat, rel=1e-4)


@given(st.floats(200.0, 200e3), bores, lengths)
def test_drop_is_proportional_to_length(heat, diameter, length):
    single = pipecode.low_pressure_drop(heat, diameter, length)
    assert pipecode.low_pressure_drop(heat, diameter, 2 * length) == pytest.approx(2 * single)


def test_nothing_flows_or_no_length_loses_nothing():
    assert pipecode.low_pressure_drop(0.0, 0.01, 3.0) == 0.0
    assert pipecode.low_pressure_drop(1e4, 0.01, 0.0) == 0.0
    assert pipecode.high_pressure_squares(0.0, 0.01, 3.0) == 0.0
