"""Pressure at every appliance, all burning: what is found, why it fails, and what mends it."""

from datetime import datetime
from pathlib import Path

import pytest

from coldsoak.choose.lines import make_lines
from coldsoak.choose.lines_answer import lines_object
from coldsoak.rig.line_steps import shorter, wider, with_fewer_fittings
from coldsoak.rig.read import parse_trip
from coldsoak.rig.units import parse
from coldsoak.weather.read import read_weather

INH2O = 0.249082
WHOLE = """\
[trip]
start = 2026-01-16T18:00:00
length = "6 h"
weather = { temperature = "-20 degC" }
[[cylinder]]
size = "100 lb"
contents = "80 lb"
[supply]
regulator = "two-stage 11 inH2O"
[[appliance]]
name = "furnace"
kind = "furnace"
input = "16000 Btu/h"
[[appliance]]
name = "grill"
kind = "grill"
input = "30000 Btu/h"
use = [{ from = "19:00", to = "19:10" }]
[[line]]
name = "trunk"
to = "tee"
kind = "copper"
size = "1/2 in"
length = "4 m"
fittings = { elbow = 3, "ball valve" = 1 }
[[line]]
name = "branch"
from = "tee"
to = "furnace"
kind = "copper"
size = "3/8 in"
length = "2 m"
[[line]]
name = "hose"
from = "tee"
to = "grill"
kind = "hose"
size = "3/8 in"
length = "3 m"
quick_connect = "1/4 in"
"""
THIN_HOSE = ('size = "3/8 in"\nlength = "3 m"', 'size = "1/4 in"\nlength = "15 m"')
OWN_REGULATOR = ('kind = "grill"', 'kind = "grill"\nregulator = "single-stage"')


def lines_of(*changes, text=WHOLE):
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    trip = parse_trip(text)
    weather = read_weather(
        trip.weather, start=trip.start, length=trip.length, place=trip.place, folder=Path()
    )
    return make_lines(trip, weather)


def codes(lines):
    return {(fault.code, fault.where) for fault in lines.faults}


def inlet(lines, name):
    return next(one for one in lines.appliances if one.appliance == name)


def test_wide_lines_feed_everything_and_nothing_is_wrong():
    lines = lines_of()
    assert lines.fed
    assert lines.faults == lines.mends == ()
    assert all(one.enough and one.inlet_kPa >= one.needed_kPa for one in lines.appliances)


def test_pressure_at_an_appliance_is_the_outlet_less_what_every_line_costs():
    lines = lines_of()
    by_name = {one.name: one for one in lines.stretches if one.darcy_kPa is not None}
    outlet = [one for one in lines.stretches if one.name == "regulator"][-1].end_kPa
    lost = sum(max(by_name[n].darcy_kPa, by_name[n].code_kPa) for n in ("trunk", "branch"))
    # solved to 1 Pa, and written to 0.1 Pa
    assert inlet(lines, "furnace").inlet_kPa == pytest.approx(outlet - lost, abs=2e-3)


def test_the_stricter_of_the_two_equations_counts():
    for one in lines_of().stretches:
        if one.darcy_kPa is not None:
            stricter = "Darcy" if one.darcy_kPa >= one.code_kPa else "code"
            assert one.decides == stricter
            assert one.start_kPa - one.end_kPa == pytest.approx(
                max(one.darcy_kPa, one.code_kPa), abs=0.15 if one.name == "hose" else 1e-3
            )  # the hose's quick-connect comes on top of the code's drop


def test_a_thin_hose_starves_its_grill_only_and_says_what_mends_it():
    lines = lines_of(THIN_HOSE)
    assert lines.starved == ("grill",)
    assert codes(lines) == {("line-too-narrow", "grill")}
    assert 0.2 < inlet(lines, "grill").fed_share < 1.0
    assert lines.least_cylinder_kPa is None
    mended = {mend.what[0].split(":")[0] for mend in lines.mends}
    assert "hose wider" in mended
    for mend in lines.mends:
        assert mend.inlet_kPa["grill"] >= 8 * INH2O - 1e-3


def test_a_second_regulator_is_found_on_an_appliance_and_on_a_line():
    own = lines_of(OWN_REGULATOR)
    assert codes(own) == {("second-regulator", "grill")}
    assert "without its own regulator" in own.mends[0].what[0]
    on_line = lines_of(('quick_connect = "1/4 in"', 'regulator = "single-stage"'))
    assert codes(on_line) == {("second-regulator", "hose")}
    assert "without the second regulator" in on_line.mends[0].what[0]
    assert "licensed" in on_line.faults[0].instead
    assert "hose" in on_line.faults[0].instead


def test_a_second_regulator_is_found_without_lines_too():
    text = WHOLE[: WHOLE.index("[[line]]")]
    assert codes(lines_of(OWN_REGULATOR, text=text)) == {("second-regulator", "grill")}


def test_two_separate_stages_in_their_order_are_no_fault():
    lines = lines_of(
        ('"two-stage 11 inH2O"', '"first-stage 10 psi"'),
        ('to = "tee"\n', 'to = "tee"\nregulator = "second-stage 11 inH2O"\n'),
    )
    assert lines.fed
    assert lines.faults == ()


def test_stages_in_reversed_order_are_found():
    lines = lines_of(
        ('"two-stage 11 inH2O"', '"second-stage 11 inH2O"'),
        ('to = "tee"\n', 'to = "tee"\nregulator = "first-stage 10 psi"\n'),
    )
    assert ("reversed-first-stage", "trunk") in codes(lines)
    assert "10.0 psi" in lines.faults[0].why


def test_a_first_stage_fitted_against_its_arrow_is_found():
    backward = '{ kind = "first-stage 10 psi", reversed = true }'
    lines = lines_of(
        ('"two-stage 11 inH2O"', backward),
        ('to = "tee"\n', 'to = "tee"\nregulator = "second-stage 11 inH2O"\n'),
    )
    assert ("fitted-backward", "regulator") in codes(lines)
    assert inlet(lines, "furnace").inlet_kPa is None


def test_a_second_stage_alone_at_the_cylinder_is_found():
    assert ("first-stage-missing", "regulator") in codes(
        lines_of(('"two-stage 11 inH2O"', '"second-stage 11 inH2O"'))
    )


def test_an_appliance_at_cylinder_pressure_is_found():
    lines = lines_of(('from = "tee"\nto = "grill"', 'from = "cylinder"\nto = "grill"'))
    assert ("no-regulator", "grill") in codes(lines)


def test_an_oversized_load_on_a_quick_connect_is_found():
    lines = lines_of(('input = "30000 Btu/h"', 'input = "65000 Btu/h"'))
    assert ("quick-connect-overloaded", "hose") in codes(lines)


def test_an_overloaded_regulator_is_found():
    small = '{ kind = "two-stage 11 inH2O", capacity = "20000 Btu/h" }'
    lines = lines_of(('"two-stage 11 inH2O"', small))
    assert ("regulator-overloaded", "regulator") in codes(lines)


def test_an_appliance_that_needs_more_than_the_regulator_gives_is_found():
    lines = lines_of(('kind = "furnace"', 'kind = "furnace"\nneeds = "12 inH2O"'))
    assert ("regulator-too-low", "furnace") in codes(lines)


def test_a_connector_that_closes_in_the_cold_is_found():
    lines = lines_of(("[supply]", '[supply]\nconnector = { trip = "60000 Btu/h" }'))
    assert ("excess-flow", "connector") in codes(lines)
    assert lines.starved == ("furnace", "grill")
    assert any("closes later" in mend.what[0] for mend in lines.mends)


def test_a_cylinder_that_is_too_cold_is_said_and_the_lines_are_shown_all_the_same():
    lines = lines_of(("-20 degC", "-38 degC"))
    assert ("cylinder-too-cold", "cylinder") in codes(lines)
    assert lines.at.cylinder_from == "least inlet pressure"
    assert inlet(lines, "furnace").inlet_kPa is not None


def test_when_no_single_step_will_do_several_are_named():
    lines = lines_of(
        ('size = "1/2 in"\nlength = "4 m"', 'size = "8 mm"\nlength = "60 m"'), THIN_HOSE
    )
    assert len(lines.mends) == 1
    assert len(lines.mends[0].what) > 1


def test_the_coldest_hour_of_the_weather_is_looked_at():
    days = '{ lows = ["-25 degC", "-25 degC"], highs = ["-5 degC", "-5 degC"] }'
    lines = lines_of(('{ temperature = "-20 degC" }', days), ('"6 h"', '"24 h"'))
    assert lines.at.air_C == pytest.approx(-25.0, abs=0.3)  # the series has a row in 10 min
    assert 4 <= datetime.fromisoformat(lines.at.time).hour <= 9


def test_the_answer_always_names_the_leak_search_and_never_a_flame():
    for lines in (lines_of(), lines_of(THIN_HOSE)):
        texts = {caution.code: caution.text for caution in lines.cautions}
        assert "soap" in texts["leak-search"]
        assert "never with a flame" in texts["leak-search"]


def test_the_object_has_its_schema_first_and_numbers_that_json_can_write():
    made = lines_object(lines_of(THIN_HOSE))
    assert next(iter(made)) == "schema"
    assert made["schema"] == "coldsoak.lines/1"
    assert made["least_cylinder_kPa"] is None


@pytest.mark.parametrize("size", ["3/8 in", "10 mm"])
def test_one_size_wider_keeps_to_inches_or_millimetres(size):
    trip = parse_trip(
        WHOLE.replace('kind = "copper"\nsize = "1/2 in"', f'kind = "copper"\nsize = "{size}"')
    )
    line = wider(trip.lines[0])
    assert line.diameter > trip.lines[0].diameter
    assert line.size.endswith(size[-2:])
    # fittings are worth so many diameters, so they grow with the bore
    assert line.fittings_length / line.diameter == pytest.approx(3 * 30 + 3)


def test_one_step_shorter_is_the_next_length_of_the_catalogue():
    hose = parse_trip(WHOLE).lines[2]
    assert shorter(hose).length == pytest.approx(parse("2.4 m", "length"))


def test_valves_are_never_left_out():
    names = {name for name, _, _ in with_fewer_fittings(parse_trip(WHOLE).lines[0])}
    assert names == {"elbow"}
