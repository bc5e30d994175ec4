"""The tree of lines: everything burning at once, forward and backward, and who starves why."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import gasflow
from coldsoak.physics.excessflow import trip_strength
from coldsoak.physics.gasflow import (
    EXCESS_FLOW,
    LINE_LIMITED,
    NO_CAUSE,
    REGULATOR_LIMITED,
    requirement_table,
)
from coldsoak.physics.pipe import gas_at
from coldsoak.physics.regulator import HIGHEST_INLET, seat_area

GAS = gas_at(288.7, np.array([0.0, 1.0, 0.0, 0.0, 0.0]))
STATION = 85_000.0
WATER = 249.082
OWN = STATION + 34.5e3
KBTU_PER_HOUR = 1055.05585e3 / 3600.0 / GAS.heat
"""A flow [kg/s]."""

COPPER = {"diameter": 0.0079, "code_diameter": 0.0079, "roughness": 1.5e-6}


def tree(*rows):
    """Sections from dicts; what is not given loses nothing."""
    sections = np.zeros(len(rows), gasflow.SECTION).view(np.recarray)
    sections.trip = math.inf
    sections.diameter = sections.code_diameter = 0.01
    for section, row in zip(sections, rows, strict=True):
        for name, value in row.items():
            section[name] = value
    return sections


def regulator(parent=-1, outlet=11 * WATER, capacity=160.0, inlet=34.5e3, minimum=OWN):
    """A single stage that passes a capacity [kBtu/h] at a gauge inlet pressure [Pa]."""
    at = (101_325.0 + inlet, 101_325.0 + 0.85 * outlet)
    return {
        "parent": parent,
        "regulated": True,
        "setting": outlet,
        "droop": 0.15 * outlet,
        "seat": seat_area(GAS, capacity * KBTU_PER_HOUR, *at),
        "minimum": minimum,
    }


def burners(*rows):
    """Ends from (section, kBtu/h) with a need of 8 inH2O."""
    ends = np.zeros(len(rows), gasflow.END).view(np.recarray)
    ends.section = ends.before = [section for section, _ in rows]
    ends.flow = [heat * KBTU_PER_HOUR for _, heat in rows]
    ends.needs = ends.needs_before = 8.0 * WATER
    return ends


def copper(parent, length):
    return {"parent": parent, "length": length, **COPPER}


CAMPER = tree(regulator(), copper(0, 4.0), copper(1, 2.0), copper(1, 5.0), copper(3, 1.0))
CAMPER_BURNERS = burners((2, 16.0), (3, 6.5), (4, 1.4))


def pressures(sections, ends, inlet, lit):
    flow, left = np.zeros(sections.size), np.zeros(sections.size)
    gasflow.section_flows(sections, ends, lit, flow)
    gasflow.node_pressures(sections, GAS, STATION, inlet, flow, left)
    return left


def least(sections, ends, lit):
    scratch = np.zeros(sections.size), np.zeros(sections.size)
    return gasflow.least_supply(sections, ends, GAS, STATION, lit, *scratch)


def test_flows_add_up_toward_the_cylinder():
    flow = np.zeros(CAMPER.size)
    gasflow.section_flows(CAMPER, CAMPER_BURNERS, 0b111, flow)
    expected = np.array([23.9, 23.9, 16.0, 7.9, 1.4]) * KBTU_PER_HOUR
    np.testing.assert_allclose(flow, expected)


def test_a_burner_that_is_out_takes_nothing():
    flow = np.zeros(CAMPER.size)
    gasflow.section_flows(CAMPER, CAMPER_BURNERS, 0b100, flow)
    np.testing.assert_allclose(flow, np.array([1.4, 1.4, 0.0, 1.4, 1.4]) * KBTU_PER_HOUR)


def test_pressure_never_rises_along_a_line():
    left = pressures(CAMPER, CAMPER_BURNERS, 5e5, 0b111)
    for section, at_end in zip(CAMPER[1:], left[1:], strict=True):
        assert at_end <= left[section.parent] + 1e-3


def test_a_camper_with_wide_lines_needs_only_its_regulator_s_minimum():
    table = requirement_table(CAMPER, CAMPER_BURNERS, GAS, STATION, OWN)
    np.testing.assert_array_equal(table.least_inlet, OWN)
    np.testing.assert_array_equal(table.cause, NO_CAUSE)
    np.testing.assert_array_equal(table.starved, 0)


def with_hose(length, heat):
    """The camper with a grill on a hose of 1/4 in."""
    hose = {"parent": 1, "length": length, "diameter": 0.00635, "code_diameter": 0.00635}
    return tree(*rows_of(CAMPER), hose), burners((2, 16.0), (3, 6.5), (4, 1.4), (5, heat))


def rows_of(sections):
    return [{name: section[name] for name in sections.dtype.names} for section in sections]


def test_a_grill_on_a_long_thin_hose_is_line_limited_and_starves_alone():
    sections, ends = with_hose(10.0, 40.0)
    table = requirement_table(sections, ends, GAS, STATION, OWN)
    assert table.least_inlet[0b1000] == math.inf
    assert table.cause[0b1000] == LINE_LIMITED
    assert table.starved[0b1111] == 0b1000
    assert table.cause[0b0111] == NO_CAUSE


def test_too_much_for_the_regulator_is_regulator_limited():
    sections = tree(regulator(capacity=5.0), copper(0, 1.0))
    table = requirement_table(sections, burners((1, 60.0)), GAS, STATION, OWN)
    assert table.least_inlet[1] > OWN + 50e3
    assert table.cause[1] == REGULATOR_LIMITED
    assert table.starved[1] == 1


def test_a_second_regulator_behind_a_regulated_outlet_starves_its_burner_only():
    second = regulator(parent=1, capacity=60.0, minimum=0.0)
    sections = tree(*rows_of(CAMPER), second)
    ends = burners((2, 16.0), (5, 30.0))
    table = requirement_table(sections, ends, GAS, STATION, OWN)
    assert table.least_inlet[0b10] == math.inf
    assert table.cause[0b10] == REGULATOR_LIMITED
    assert table.starved[0b11] == 0b10


def test_what_no_pressure_feeds_stays_so_behind_two_stages():
    between = 69e3
    first = regulator(outlet=between, capacity=300.0, inlet=100e3)
    second = regulator(parent=0, inlet=34.5e3, minimum=0.0)
    third = regulator(parent=1, capacity=60.0, minimum=0.0)
    table = requirement_table(tree(first, second, third), burners((2, 30.0)), GAS, STATION, OWN)
    assert table.least_inlet[1] == math.inf
    assert table.cause[1] == REGULATOR_LIMITED


def test_an_excess_flow_connector_trips_when_everything_burns_in_the_cold():
    connector = {"parent": -1, "trip": trip_strength(GAS, 100.0 * KBTU_PER_HOUR)}
    rows = rows_of(CAMPER)
    for row in rows:
        row["parent"] += 1
    sections, ends = tree(connector, *rows), burners((3, 35.0), (4, 20.0))
    table = requirement_table(sections, ends, GAS, STATION, OWN)
    assert list(table.cause) == [NO_CAUSE, NO_CAUSE, NO_CAUSE, EXCESS_FLOW]
    assert OWN < table.least_inlet[3] < HIGHEST_INLET
    assert table.starved[3] == 0b11


def test_more_than_a_table_of_burners_is_refused():
    many = burners(*[(1, 1.0)] * (gasflow.MOST_BURNERS + 1))
    with pytest.raises(ValueError, match="11 burners"):
        requirement_table(CAMPER, many, GAS, STATION, OWN)


@st.composite
def trees(draw):
    """A regulator and up to seven lines, each behind an earlier one, with up to five burners."""
    count = draw(st.integers(1, 7))
    bores = st.sampled_from([0.005, 0.00635, 0.0079, 0.0102, 0.0158])
    rows = [regulator()]
    for s in range(1, count + 1):
        bore = draw(bores)
        rows.append(
            {
                "parent": draw(st.integers(0, s - 1)),
                "length": draw(st.floats(0.0, 12.0)),
                "resistance": draw(st.sampled_from([0.0, 1e8])),
                "diameter": bore,
                "code_diameter": bore,
                "roughness": 1.5e-6,
            }
        )
    places = st.lists(
        st.tuples(st.integers(0, count), st.floats(0.5, 40.0)), min_size=1, max_size=5
    )
    return tree(*rows), burners(*draw(places))


@given(trees())
def test_with_the_least_pressure_no_burner_starves_and_with_less_one_does(both):
    sections, ends = both
    lit = (1 << ends.size) - 1
    need = least(sections, ends, lit)
    if need < math.inf:
        left = pressures(sections, ends, need + 0.5, lit)
        assert gasflow.starving(ends, STATION, lit, left) == 0  # solved to 1 Pa
        if need > OWN + 1.0:
            shortest = pressures(sections, ends, need - 500.0, lit)
            assert min(shortest[ends.section]) < STATION + 8.0 * WATER
    else:
        left = pressures(sections, ends, HIGHEST_INLET, lit)
        assert gasflow.starving(ends, STATION, lit, left) != 0


@given(trees())
def test_lighting_another_burner_never_asks_for_less(both):
    table = requirement_table(*both, GAS, STATION, OWN)
    for lit in range(table.cause.size):
        for b in range(both[1].size):
            assert table.least_inlet[lit | 1 << b] >= table.least_inlet[lit] - 0.1


@given(trees())
def test_only_lit_burners_starve_and_only_with_a_cause(both):
    table = requirement_table(*both, GAS, STATION, OWN)
    for lit in range(table.cause.size):
        assert table.starved[lit] & ~lit == 0
        assert bool(table.starved[lit]) == bool(table.cause[lit])


@given(trees())
def test_what_has_no_cause_is_fed_by_the_regulator_s_own_minimum_or_a_little_more(both):
    table = requirement_table(*both, GAS, STATION, OWN)
    mild = table.cause == NO_CAUSE
    share = (table.least_inlet[mild] - OWN) / (OWN - STATION)
    assert np.all(share <= gasflow.WORTH_BLAMING + 1e-4)
