"""The battery's laws against published tables, by kind as the catalogue describes them."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import battery as law
from coldsoak.physics.battery import Cell

HERE = Path(__file__).parent
KINDS = ("flooded", "AGM", "gel", "LFP")
ROUNDING = 1e-12
"""Sums and products of doubles."""


def rows(name: str) -> list[dict[str, str]]:
    lines = (HERE / name).read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def cell(kind: str = "AGM", watt_hours: float = 1200.0) -> Cell:
    """A battery of the catalogue."""
    from coldsoak.choose.battery import efficiency, knots, room
    from coldsoak.rig.battery import kind_of_battery

    found = kind_of_battery(kind)
    return Cell(
        energy=3600.0 * watt_hours,
        exponent=found.exponent,
        cold=knots(found.capacity, 0),
        shares=knots(found.capacity, 1),
        chill=knots(found.acceptance, 0),
        pace=knots(found.acceptance, 1),
        room=room(found),
        efficiency=efficiency(found),
        charge_floor=found.charge_floor,
    )


kinds = st.sampled_from(KINDS)
temperatures = st.floats(213.15, 328.15)
loads = st.floats(0.0, 3000.0)
states = st.floats(0.0, 1.0)


@pytest.mark.parametrize(
    "row", rows("battery_published.csv"), ids=lambda r: f"{r['kind']} {r['temperature_C']}"
)
def test_capacity_in_the_cold_is_as_published(row: dict[str, str]) -> None:
    reach = law.within_reach(float(row["temperature_C"]) + 273.15, 0.0, cell(row["kind"]))
    # half a unit of the last digit that the curve keeps
    assert reach == pytest.approx(float(row["share"]), abs=0.0006)


@pytest.mark.parametrize("row", rows("battery_rates.csv"), ids=lambda r: r["current_A"])
def test_a_faster_discharge_gives_what_peukert_says(row: dict[str, str]) -> None:
    watts = 12.0 * float(row["current_A"])
    capacity = 100.0 * law.within_reach(298.15, watts, cell("AGM"))
    # half a unit of the last digit
    assert capacity == pytest.approx(float(row["capacity_Ah"]), abs=0.006)


@pytest.mark.parametrize("kind", KINDS)
def test_between_two_published_points_capacity_runs_straight(kind: str) -> None:
    it = cell(kind)
    middles = 0.5 * (it.cold[1:] + it.cold[:-1])
    found = [law.within_reach(t, 0.0, it) for t in middles]
    assert found == pytest.approx(0.5 * (it.shares[1:] + it.shares[:-1]), rel=ROUNDING)


@given(kind=kinds, temperature=temperatures, colder=st.floats(0.0, 60.0), load=loads)
def test_colder_never_gives_more(kind: str, temperature: float, colder: float, load: float) -> None:
    it = cell(kind)
    assert law.within_reach(temperature - colder, load, it) <= law.within_reach(
        temperature, load, it
    )


@given(kind=kinds, temperature=temperatures, load=loads, more=loads)
def test_faster_never_gives_more(kind: str, temperature: float, load: float, more: float) -> None:
    it = cell(kind)
    assert law.within_reach(temperature, load + more, it) <= law.within_reach(temperature, load, it)


@given(kind=kinds, temperature=temperatures, load=loads, kept=st.floats(0.0, 1.0))
def test_usable_is_the_inverse_of_the_state_that_keeps_it(
    kind: str, temperature: float, load: float, kept: float
) -> None:
    it = cell(kind)
    reach = law.within_reach(temperature, load, it)
    if reach > 0.01:
        state = law.state_keeping(kept, temperature, load, it)
        # one part in 100 of the state is divided by itself
        assert law.usable(state, temperature, load, it) == pytest.approx(kept, abs=1e-12)


def test_a_battery_that_cannot_be_reached_has_nothing_usable() -> None:
    assert law.usable(1.0, 213.15, 50.0, cell("AGM")) == 0.0
    assert law.state_keeping(0.0, 213.15, 50.0, cell("AGM")) == 1.0


@given(state=states, temperature=temperatures, charge=loads, load=loads)
def test_lithium_iron_phosphate_is_not_charged_below_freezing(
    state: float, temperature: float, charge: float, load: float
) -> None:
    it = cell("LFP")
    rate = law.state_rate(state, temperature, load, charge, it)
    if temperature < 273.15:
        assert rate <= 0.0
    elif charge > load and state < 1.0:
        assert rate > 0.0


@given(kind=kinds, state=states, temperature=temperatures, charge=loads)
def test_no_battery_takes_more_than_it_is_offered(
    kind: str, state: float, temperature: float, charge: float
) -> None:
    it = cell(kind)
    assert 0.0 <= law.state_rate(state, temperature, 0.0, charge, it) * it.energy <= charge


@given(state=states, fuller=states, temperature=temperatures)
def test_a_fuller_lead_acid_battery_accepts_less(
    state: float, fuller: float, temperature: float
) -> None:
    it = cell("flooded")
    low, high = sorted((state, fuller))
    assert law.charge_limit(high, temperature, it) <= law.charge_limit(low, temperature, it)


def test_the_ampere_hour_law_limits_lead_acid() -> None:
    # in steps of a twentieth, so to half a step: 100 Ah with 60 Ah in it take 40 A
    amperes = law.charge_limit(0.6, 298.15, cell("flooded")) / 12.0
    assert amperes == pytest.approx(40.0, abs=0.5 * 100.0 / law.BINS)


def test_charging_lead_acid_is_as_efficient_as_measured() -> None:
    # Stevens & Corey (1996): 91 % of the charge from empty to 84 %; ours includes the voltages.
    # The bins end at 80 and 85 %, which moves the mean by a point.
    it = cell("flooded")
    charge = it.efficiency[:17] * 14.4 / 12.0
    assert 17.0 / np.sum(1.0 / charge) == pytest.approx(0.91, abs=0.012)


@given(kind=kinds, temperature=temperatures, load=loads)
def test_a_battery_without_charge_is_drained_by_its_load(
    kind: str, temperature: float, load: float
) -> None:
    it = cell(kind)
    rate = law.state_rate(0.5, temperature, load, 0.0, it)
    assert rate == pytest.approx(-load / it.energy, rel=ROUNDING)


@given(
    gap=st.floats(-5, 5).filter(lambda g: abs(g) > 1e-6),
    slope=st.floats(-5, 5),
    bend=st.floats(-5, 5),
    end=st.floats(0.1, 10),
)
def test_the_first_root_is_a_root_and_the_first(
    gap: float, slope: float, bend: float, end: float
) -> None:
    root = law.first_root(gap, slope, bend, end)
    times = np.linspace(0.0, min(root, end), 2001)[1:-1]
    course = gap + slope * times + 0.5 * bend * times**2
    # a double root may touch zero within rounding
    assert (np.sign(gap) * course > -1e-9).all()
    if np.isfinite(root):
        scale = abs(gap) + abs(slope * root) + abs(bend) * root**2
        assert gap + slope * root + 0.5 * bend * root**2 == pytest.approx(0.0, abs=1e-9 * scale)
