"""The tree that a trip's lines become, and what its sets of burners need."""

import math

import numpy as np
import pytest

from coldsoak.choose.lay_lines import lay_lines, needs_no_tree, requirements_of
from coldsoak.errors import TripError
from coldsoak.physics import gasflow
from coldsoak.rig.read import parse_trip

STATION = 90_000.0
START = """\
[trip]
weather = { temperature = "-20 degC" }
[[cylinder]]
size = "20 lb"
contents = "15 lb"
"""
BURNERS = """\
[[appliance]]
name = "furnace"
kind = "furnace"
input = "16000 Btu/h"
[[appliance]]
name = "grill"
kind = "grill"
input = "30000 Btu/h"
"""
LINES = """\
[[line]]
from = "tee"
to = "furnace"
kind = "copper"
size = "3/8 in"
length = "2 m"
[[line]]
to = "tee"
kind = "copper"
size = "1/2 in"
length = "4 m"
[[line]]
from = "tee"
to = "grill"
kind = "hose"
size = "3/8 in"
length = "3 m"
quick_connect = "1/4 in"
"""
PIGTAIL = """\
[[line]]
from = "cylinder"
to = "regulator"
kind = "hose"
size = "1/4 in"
length = "0.5 m"
"""
WHOLE = START + '[supply]\nregulator = "two-stage 11 inH2O"\n' + BURNERS + LINES


def trip_of(*changes, text=WHOLE):
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return parse_trip(text)


def test_a_trip_without_lines_needs_its_regulator_s_minimum_for_every_set_of_burners():
    trip = parse_trip(START + BURNERS)
    assert needs_no_tree(trip)
    table = requirements_of(trip, STATION)
    assert table.least_inlet.size == 1
    assert table.least_inlet[0] == STATION + trip.supply.minimum_inlet
    assert table.cause[0] == gasflow.NO_CAUSE


def test_the_tree_without_losses_gives_the_same_as_no_tree():
    # the shortcut of needs_no_tree is no other rule
    trip = parse_trip(START + BURNERS)
    tree = lay_lines(trip, STATION)
    table = gasflow.requirement_table(tree.sections, tree.ends, tree.gas, STATION, tree.own)
    np.testing.assert_allclose(table.least_inlet, tree.own)


def test_lines_may_stand_in_any_order():
    tree = lay_lines(trip_of(), STATION)
    assert tree.owner == (
        "regulator",
        "regulator",
        "regulator to tee",
        "tee to furnace",
        "tee to grill",
    )
    assert list(tree.sections.parent) == [-1, 0, 1, 2, 2]
    assert list(tree.ends.section) == [3, 4]


def test_high_pressure_lines_use_the_code_s_equation_for_them():
    tree = lay_lines(parse_trip(WHOLE + PIGTAIL), STATION)
    assert tree.owner[0] == "cylinder to regulator"
    assert list(tree.sections.high_pressure) == [True, False, False, False, False, False]


def test_the_minimum_of_the_first_regulator_stands_at_its_first_stage():
    tree = lay_lines(trip_of(), STATION)
    assert list(tree.sections.minimum) == [STATION + 34.5e3, 0.0, 0.0, 0.0, 0.0]


def test_thin_air_takes_less_gas():
    low, high = (lay_lines(trip_of(), station).ends.flow for station in (101_325.0, 80_000.0))
    np.testing.assert_allclose(high / low, math.sqrt(80_000.0 / 101_325.0))


def test_wide_lines_need_the_minimum_of_today():
    table = requirements_of(trip_of(), STATION)
    own = STATION + 34.5e3
    assert np.all(table.cause == gasflow.NO_CAUSE)
    assert np.all(table.least_inlet <= own + 0.1 * 34.5e3)


TWO_STAGE = '"two-stage 11 inH2O"'
CAUSES = {
    "long thin hose": (
        ('size = "3/8 in"\nlength = "3 m"', 'size = "1/4 in"\nlength = "18 m"'),
        gasflow.LINE_LIMITED,
    ),
    "grill with a regulator of its own": (
        ('kind = "grill"', 'kind = "grill"\nregulator = "single-stage"'),
        gasflow.REGULATOR_LIMITED,
    ),
    "hose with a regulator": (
        ('quick_connect = "1/4 in"', 'regulator = "single-stage"'),
        gasflow.REGULATOR_LIMITED,
    ),
    "small connector": (
        ("[supply]", '[supply]\nconnector = { trip = "60000 Btu/h" }'),
        gasflow.EXCESS_FLOW,
    ),
    "small regulator": (
        (TWO_STAGE, '{ kind = "two-stage", capacity = "20000 Btu/h" }'),
        gasflow.REGULATOR_LIMITED,
    ),
    "regulator fitted backward": (
        (TWO_STAGE, '{ kind = "two-stage", reversed = true }'),
        gasflow.REGULATOR_LIMITED,
    ),
}


@pytest.mark.parametrize(("change", "cause"), CAUSES.values(), ids=CAUSES)
def test_every_cause_can_be_had(change, cause):
    table = requirements_of(trip_of(change), STATION)
    assert table.cause[0b11] == cause
    assert table.starved[0b11] & 0b10


def test_two_separate_stages_work_like_one_body():
    text = WHOLE.replace('"two-stage 11 inH2O"', '"first-stage 10 psi"')
    text = text.replace(
        'to = "tee"\nkind', 'to = "tee"\nregulator = "second-stage 11 inH2O"\nkind', 1
    )
    table = requirements_of(parse_trip(text), STATION)
    assert np.all(np.isfinite(table.least_inlet))
    assert np.all(table.cause == gasflow.NO_CAUSE)


def test_a_burner_on_cylinder_pressure_needs_its_own_regulator_only():
    own = 'from = "cylinder"\nto = "grill"\nregulator = "high-pressure 20 psi"'
    table = requirements_of(trip_of(('from = "tee"\nto = "grill"', own)), STATION)
    # 8/11 of 20 psi behind the hose
    assert table.least_inlet[0b10] > STATION + 8 / 11 * 137.9e3
    assert table.least_inlet[0b01] == pytest.approx(STATION + 34.5e3, rel=0.01)


def test_a_burner_with_its_own_regulator_may_need_a_pressure_before_it():
    own = 'kind = "grill"\nregulator = "single-stage 11 inH2O"\nneeds = "5 psi"'
    tree = lay_lines(trip_of(('kind = "grill"', own)), STATION)
    grill = tree.ends[1]
    assert tree.owner[grill.section] == "grill"
    assert tree.owner[grill.before] == "tee to grill"
    assert grill.needs_before == pytest.approx(5 * 6894.757)
    assert grill.needs == pytest.approx(8 * 249.082)


def test_more_burners_than_a_table_holds_are_refused_only_with_lines():
    many = "".join(
        f'[[appliance]]\nname = "burner {n}"\nkind = "burner"\ninput = "1 kW"\n' for n in range(11)
    )
    assert requirements_of(parse_trip(START + many), STATION).cause.size == 1
    with pytest.raises(TripError, match="at most 10"):
        requirements_of(parse_trip(WHOLE + many), STATION)
