"""Lines, regulators and connectors: resolved in SI, and refused where they cannot be."""

import math

import pytest

from coldsoak.errors import TripError
from coldsoak.rig.catalogue import catalogue
from coldsoak.rig.line import sizes
from coldsoak.rig.read import parse_trip
from coldsoak.rig.route import path_to, pressure_before
from coldsoak.rig.trip import Line, Trip
from coldsoak.rig.units import parse

from .example import SMALLEST

INH2O = 249.082
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
to = "tee"
kind = "copper"
size = "1/2 in"
length = "4 m"
fittings = { elbow = 2, "ball valve" = 1 }
[[line]]
name = "furnace line"
from = "tee"
to = "furnace"
kind = "copper"
size = "3/8 in"
length = "2 m"
[[line]]
from = "tee"
to = "grill"
kind = "hose"
diameter = "8 mm"
length = "10 ft"
quick_connect = "1/4 in"
"""
WHOLE = SMALLEST + '[supply]\nregulator = "two-stage 11 inH2O"\n' + BURNERS + LINES


def changed(old: str, new: str, text: str = WHOLE) -> Trip:
    assert old in text
    return parse_trip(text.replace(old, new, 1))


def refused(old: str, new: str) -> TripError:
    with pytest.raises(TripError) as caught:
        changed(old, new)
    return caught.value


def line(trip: Trip, name: str) -> Line:
    return next(each for each in trip.lines if each.name == name)


def test_a_line_is_what_the_file_says() -> None:
    trunk, furnace, hose = parse_trip(WHOLE).lines
    assert (trunk.name, trunk.start, trunk.end) == ("regulator to tee", "regulator", "tee")
    assert furnace.name == "furnace line"
    assert trunk.diameter == pytest.approx(0.402 * 0.0254)
    assert hose.diameter == pytest.approx(0.008)
    assert hose.length == pytest.approx(3.048)
    assert hose.quick_connect is not None
    assert hose.quick_connect.drop == pytest.approx(0.5 * INH2O)


def test_fittings_are_worth_so_many_diameters() -> None:
    trunk = parse_trip(WHOLE).lines[0]
    assert trunk.fittings_length == pytest.approx((2 * 30 + 3) * trunk.diameter)


def test_without_lines_the_regulator_limits_nothing_and_nothing_new_is_assumed() -> None:
    trip = parse_trip(SMALLEST + BURNERS)
    assert trip.lines == ()
    assert trip.supply.device is None
    told = {each.key for each in trip.assumptions}
    assert not told & {"supply.regulator.capacity", "appliance.furnace.needs"}


def test_with_lines_the_numbers_of_regulator_and_burners_are_told() -> None:
    told = {each.key for each in parse_trip(WHOLE).assumptions}
    assert {
        "supply.regulator.capacity",
        "supply.regulator.droop",
        "supply.regulator.lock_up",
        "appliance.furnace.needs",
        "line[1].from",
        "line[3].quick_connect.rating",
        "line[3].roughness",
    } <= told


@pytest.mark.parametrize(
    ("regulator", "least"),
    [
        ("two-stage 11 inH2O", 8 * INH2O),
        ("single-stage 30 mbar", 2500.0),
        ("single-stage 37 mbar", 2500.0),
        ("single-stage 50 mbar", 4250.0),
        ("single-stage 5 psi", 8 / 11 * parse("5 psi", "gauge_pressure")),
    ],
)
def test_an_appliance_needs_what_the_standards_test_it_at(regulator: str, least: float) -> None:
    trip = changed("two-stage 11 inH2O", regulator)
    # computed defaults are written to 0.1 kPa
    assert trip.appliances[0].needs == pytest.approx(least, rel=2e-3)


def test_what_an_appliance_needs_may_be_given() -> None:
    trip = changed('kind = "furnace"', 'kind = "furnace"\nneeds = "10.5 inH2O"')
    assert trip.appliances[0].needs == pytest.approx(10.5 * INH2O)


def test_a_regulator_may_be_given_by_its_numbers() -> None:
    numbers = '{ kind = "two-stage 11 inH2O", capacity = "1.5 kg/h", droop = "1 inH2O" }'
    device = changed('"two-stage 11 inH2O"', numbers).supply.device
    assert device is not None
    # 50.3 MJ/kg of propane
    assert device.capacity == pytest.approx(1.5 * 50.33e6 / 3600, rel=1e-3)
    assert device.droop == pytest.approx(INH2O)
    assert not device.backward


def test_an_appliance_may_have_a_regulator_of_its_own() -> None:
    trip = changed('kind = "grill"', 'kind = "grill"\nregulator = "single-stage 11 inH2O"')
    grill = trip.appliances[1]
    assert grill.regulator is not None
    assert grill.regulator.minimum_inlet == 0.0
    assert grill.needs == pytest.approx(8 * INH2O)


def test_a_connector_closes_at_one_flow_and_passes_a_smaller_one() -> None:
    trip = changed("[supply]", "[supply]\nconnector = {}")
    connector = trip.supply.connector
    assert connector is not None
    assert connector.bypass < connector.trip == pytest.approx(58614, abs=1)  # 200,000 Btu/h
    error = refused("[supply]", '[supply]\nconnector = { trip = "1 kW", bypass = "2 kW" }')
    assert error.key == "supply.connector.bypass"


def test_the_way_to_an_appliance_leads_from_the_regulator() -> None:
    trip = parse_trip(WHOLE)
    assert [each.name for each in path_to("grill", trip.lines)] == [
        "regulator to tee",
        "tee to grill",
    ]
    assert pressure_before("grill", trip.lines, trip.supply) == pytest.approx(11 * INH2O)


def test_an_appliance_without_a_line_is_noted() -> None:
    alone = parse_trip(WHOLE + '[[appliance]]\nkind = "stove"\ninput = "2 kW"\n')
    assert any("No [[line]] leads to stove" in note for note in alone.notes)


def test_a_line_from_the_cylinder_has_no_regulator_before_it() -> None:
    trip = changed('from = "tee"\nto = "grill"', 'from = "cylinder"\nto = "grill"')
    assert pressure_before("grill", trip.lines, trip.supply) is None


MISTAKES = [
    ('to = "furnace"', 'to = "furnase"', "line.furnace line.to", ["did you mean furnace?"]),
    ('to = "furnace"', 'to = "grill"', "line[3].to", ["second line", "furnace line"]),
    ('to = "furnace"', 'to = "cylinder"', "line.furnace line.to", ["leads to an appliance"]),
    ('from = "tee"', 'from = "te"', "line.furnace line.from", ["did you mean tee?"]),
    ('from = "tee"', 'from = "grill"', "line.furnace line.from", ["an appliance"]),
    ('size = "1/2 in"', 'size = "1/2"', "line[1].size", ['did you mean "1/2 in"?']),
    ('size = "1/2 in"', "", "line[1].size", ["nothing says how wide"]),
    ('kind = "copper"', 'kind = "cooper"', "line[1].kind", ['did you mean "copper"?']),
    ('length = "4 m"', "length = 4", "line[1].length", ["bare number 4"]),
    ('length = "4 m"', 'length = "4 kg"', "line[1].length", ["a mass"]),
    ("elbow = 2", "ellbow = 2", "line[1].fittings.ellbow", ["did you mean elbow?"]),
    ("elbow = 2", "elbow = -2", "line[1].fittings.elbow", ["greater than or equal"]),
    ("elbow = 2", 'elbow = "2"', "line[1].fittings.elbow", ["whole number"]),
    ('quick_connect = "1/4 in"', 'quick_connect = "1 in"', "line[3].quick_connect", ["3/8 in"]),
    ('kind = "hose"', 'kind = "CSST"', "line[3].diameter", ["EHD"]),
    ('diameter = "8 mm"', 'diameter = "8 m"', "line[3].diameter", ["at most 150 mm"]),
    ('"two-stage 11 inH2O"', '{ kind = "tow-stage" }', "supply.regulator.kind", ["two-stage?"]),
    ('"two-stage 11 inH2O"', '{ kid = "two-stage" }', "supply.regulator.kid", ["kind"]),
    ('"two-stage 11 inH2O"', '"two-stage 0 kPa"', "supply.regulator", ["more than 0"]),
    ('"two-stage 11 inH2O"', "7", "supply.regulator", ["found 7"]),
    ('name = "furnace line"', 'name = "furnace"', "line.furnace.name", ["another name"]),
    ('name = "grill"', 'name = "cylinder"', "appliance.cylinder.name", ["another name"]),
]


@pytest.mark.parametrize(("old", "new", "key", "words"), MISTAKES, ids=[m[1] for m in MISTAKES])
def test_a_mistake_is_answered_at_its_place(old: str, new: str, key: str, words: list[str]) -> None:
    error = refused(old, new)
    assert error.key == key
    for word in words:
        assert word in str(error)


def test_a_line_needs_two_brackets() -> None:
    with pytest.raises(TripError, match="two brackets"):
        parse_trip(SMALLEST + '[line]\nto = "grill"\n')


def test_without_lines_the_outlet_pressure_has_no_effect_and_that_is_told() -> None:
    notes = parse_trip(SMALLEST + '[supply]\nregulator = "two-stage 11 inH2O"\n').notes
    assert any("supply.regulator's outlet pressure" in note for note in notes)


def test_a_length_may_be_a_range() -> None:
    trip = changed('length = "4 m"', 'length = "3 m .. 5 m"')
    assert trip.lines[0].length == pytest.approx(4.0)
    assert [each.key for each in trip.uncertain] == ["line[1].length"]


def test_lines_in_a_circle_are_refused() -> None:
    circle = """\
[[line]]
from = "b"
to = "a"
kind = "hose"
size = "1/4 in"
length = "1 m"
[[line]]
from = "a"
to = "b"
kind = "hose"
size = "1/4 in"
length = "1 m"
"""
    with pytest.raises(TripError, match="circle"):
        parse_trip(WHOLE + circle)


def test_a_line_from_the_regulator_s_outlet_to_its_inlet_is_refused() -> None:
    back = (
        '[[line]]\nfrom = "tee"\nto = "regulator"\nkind = "hose"\nsize = "1/4 in"\nlength = "1 m"\n'
    )
    with pytest.raises(TripError, match="back to its inlet"):
        parse_trip(WHOLE + back)


@pytest.mark.parametrize("kind", ["pipe", "copper", "hose", "CSST"])
def test_the_sizes_of_a_kind_go_from_narrow_to_wide(kind: str) -> None:
    bores = [parse(entry.values["diameter"].value, "length") for entry in sizes(kind)]
    assert len(bores) >= 6
    assert bores == sorted(bores)


@pytest.mark.parametrize("kind", list(catalogue("regulators")))
def test_a_regulator_of_the_catalogue_can_be_resolved(kind: str) -> None:
    trip = changed('"two-stage 11 inH2O"', f'"{kind}"')
    device = trip.supply.device
    assert device is not None
    numbers = (device.capacity, device.droop, device.rated_inlet, device.inlet_limit)
    assert all(math.isfinite(number) and number > 0 for number in numbers)
    assert device.rated_inlet > device.outlet
    assert device.outlet < device.lock_up <= 1.2 * device.outlet  # trade data sheet: 120 %
