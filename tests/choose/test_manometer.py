"""What manometer readings allow to conclude, and that temperature alone never does."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.choose.manometer import (
    DropRule,
    FlowLimits,
    Timed,
    corrected,
    creep,
    flow_pressure,
    leak_rate,
    lock_up,
    pressure_drop,
    shortcomings,
)
from coldsoak.physics.closedvolume import Shut, explained_gauge

INH2O, PSI, MBAR = 249.082, 6894.757, 100.0
STATION = 101_325.0
DOUBT = 0.1 * INH2O

RV = DropRule("RV practice", 8 * INH2O, 180.0, 0.0, 0.5 * INH2O, 0.0, 0.0)
EN = DropRule("EN 1949", 150 * MBAR, 300.0, 10 * MBAR, 10 * MBAR, 300.0, 7e-4)


def timed(start, end, warmed=0.0, doubt=0.1, seconds=180.0, gauge_doubt=DOUBT):
    """Two readings [Pa gauge] on a pipe at 10 degC that warmed by so many kelvins."""
    return Timed(
        Shut(start, 283.15, STATION),
        Shut(end, 283.15 + warmed, STATION),
        seconds,
        gauge_doubt,
        doubt,
        5.0,
    )


@pytest.mark.parametrize(
    ("inches", "conclusion"),
    [
        (9.0, "too low"),
        (11.0, "good"),
        (12.5, "good"),
        (13.2, "cannot tell"),  # 120 % of 11, to the gauge's tenth of an inch
        (14.5, "too high"),  # above 14, the highest of training texts too
    ],
)
def test_lock_up_lies_between_the_setting_and_120_percent_of_it(inches, conclusion):
    assert lock_up(inches * INH2O, 11 * INH2O, 1.2, DOUBT).conclusion == conclusion


@pytest.mark.parametrize(
    ("inches", "conclusion"),
    [(5.0, "too low"), (8.0, "cannot tell"), (10.5, "good"), (13.0, "too high")],
)
def test_flow_pressure_lies_between_need_and_setting(inches, conclusion):
    limits = FlowLimits(11 * INH2O, 8 * INH2O, 11.55 * INH2O, DOUBT)
    assert flow_pressure(inches * INH2O, limits).conclusion == conclusion


def test_a_steady_pipe_that_holds_shows_no_loss():
    read = timed(8 * INH2O, 8 * INH2O)
    assert pressure_drop(read, RV, []).conclusion == "no loss found"


def test_a_drop_that_a_cooling_pipe_explains_is_neither_a_leak_nor_a_pass():
    # one kelvin colder is 1.4 inH2O less; nobody had a thermometer on the pipe
    read = timed(8 * INH2O, 6.7 * INH2O, doubt=1.5)
    assert pressure_drop(read, RV, []).conclusion == "cannot tell"
    assert corrected(read).explained_by == pytest.approx(-0.9, abs=0.05)


def test_the_same_drop_on_a_pipe_that_kept_its_temperature_is_a_leak():
    read = timed(8 * INH2O, 6.7 * INH2O)
    meaning = pressure_drop(read, RV, [])
    assert meaning.conclusion == "leak"
    assert any("soap" in step for step in meaning.next)
    assert any("licensed" in step for step in meaning.next)


def test_a_steady_reading_on_a_warming_pipe_hides_a_leak():
    read = timed(8 * INH2O, 8 * INH2O, warmed=2.0)
    assert pressure_drop(read, RV, []).conclusion == "leak"


def test_a_drop_that_measured_cooling_explains_is_no_leak():
    before = Shut(8 * INH2O, 283.15, STATION)
    read = timed(8 * INH2O, explained_gauge(before, 281.15, STATION), warmed=-2.0)
    assert pressure_drop(read, RV, []).conclusion == "no loss found"


def test_pressure_that_rises_without_warming_is_fed_through_a_valve():
    assert pressure_drop(timed(8 * INH2O, 10 * INH2O), RV, []).conclusion == "fed"


@pytest.mark.parametrize(
    ("lost", "conclusion"),
    [(0.0, "no loss found"), (5.0, "no loss found"), (9.5, "cannot tell"), (15.0, "leak")],
)
def test_the_caravan_standard_allows_ten_millibar(lost, conclusion):
    read = timed(150 * MBAR, (150 - lost) * MBAR, seconds=300.0)
    assert pressure_drop(read, EN, []).conclusion == conclusion


def test_a_test_that_was_not_kept_to_its_rule_is_no_pass_but_may_find_a_leak():
    read = timed(6 * INH2O, 6 * INH2O, seconds=60.0)
    short = shortcomings(read, RV, None, 0.0)
    assert len(short) == 2
    assert pressure_drop(read, RV, short).conclusion == "cannot tell"
    assert pressure_drop(timed(6 * INH2O, 2 * INH2O), RV, short).conclusion == "leak"


def test_the_caravan_standard_asks_for_a_rest_and_a_volume():
    read = timed(150 * MBAR, 150 * MBAR, seconds=300.0)
    assert len(shortcomings(read, EN, 5e-4, 0.0)) == 2
    assert shortcomings(read, EN, 1e-3, 300.0) == []


def test_creep_is_a_rise_that_warming_does_not_explain():
    read = {"start": 11.5 * INH2O, "end": 13.0 * INH2O}
    seen = 0.5 * INH2O
    assert creep(timed(**read), 11 * INH2O, 1.2, seen).conclusion == "creeps"
    assert creep(timed(**read, doubt=2.0), 11 * INH2O, 1.2, seen).conclusion == "cannot tell"
    warm = creep(timed(**read, warmed=1.05), 11 * INH2O, 1.2, seen)
    assert warm.conclusion == "cannot tell"
    steady = timed(11.5 * INH2O, 11.5 * INH2O)
    assert creep(steady, 11 * INH2O, 1.2, seen).conclusion == "good"


readings = st.floats(0.0, 2e4)


@given(readings, st.floats(-8.0, 8.0), st.sampled_from([RV, EN]), st.floats(0.0, 5.0))
def test_no_change_of_temperature_alone_is_ever_a_leak(start, warmed, rule, doubt):
    before = Shut(start, 283.15, STATION)
    end = explained_gauge(before, 283.15 + warmed, STATION)
    told = timed(start, end, warmed=warmed, doubt=doubt)
    assert pressure_drop(told, rule, []).conclusion not in ("leak", "fed")
    # and without a thermometer, as long as the doubt covers the change
    untold = timed(start, end, doubt=abs(warmed) + 1e-6)
    assert pressure_drop(untold, rule, []).conclusion not in ("leak", "fed")


@given(readings, st.floats(0.0, 8.0), st.sampled_from([RV, EN]))
def test_a_change_that_the_doubt_can_hide_is_never_a_pass(start, doubt, rule):
    read = timed(start, start, doubt=doubt)
    if corrected(read).doubt > rule.doubt:
        assert pressure_drop(read, rule, []).conclusion == "cannot tell"


def test_a_leak_is_told_by_its_size():
    read = timed(8 * INH2O, 6 * INH2O)
    least, most = leak_rate(corrected(read), read, 1.5e-3)
    # 2 inH2O of 1.5 L in 3 min: n = p V / R T
    assert least == pytest.approx(2 * INH2O * 1.5e-3 / (8.314462618 * 283.15) / 180.0)
    assert most > least
