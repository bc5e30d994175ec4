"""Freezing water against closed forms: Newton's cooling, Stefan's ice with a film, and Plank."""

import csv
from math import log
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from coldsoak.physics import freezing as law
from coldsoak.physics.film import STEFAN_BOLTZMANN, free_horizontal, free_upright

HERE = Path(__file__).parent
SEA = 101325.0
HOUR = 3600.0
ZERO = law.FREEZING_POINT

bodies = st.one_of(
    st.tuples(st.floats(0.006, 0.1), st.floats(0, 1)).map(lambda drawn: law.pipe(*drawn)),
    st.tuples(st.floats(0.001, 0.3), st.floats(0, 2)).map(
        lambda drawn: law.tank(drawn[0], box_area(drawn[0]), drawn[1])
    ),
)


def box_area(volume: float) -> float:
    """Surface [m2] of a box of 4 : 2 : 1."""
    edge = (volume / 8.0) ** (1.0 / 3.0)
    return 28.0 * edge * edge


def rows(name: str) -> list[dict[str, str]]:
    lines = (HERE / name).read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def steady(
    body: law.Body, air: float, start: float = 15.0, hours: float = 200.0, **more: float
) -> law.Freezing:
    """Water in air that keeps one temperature [C]."""
    seconds = np.array([0.0, hours * HOUR])
    wind = np.full(2, more.get("wind", 0.0))
    share = more.get("share", 0.5)
    airs = np.full(2, ZERO + air)
    return law.freeze(seconds, airs, wind, ZERO + start, share, body, SEA)


@pytest.mark.parametrize("body", [law.pipe(0.013, 0.0), law.tank(0.02, 0.5, 0.4)])
@pytest.mark.parametrize("difference", [0.5, 5.0, 40.0])
def test_the_flux_is_the_root_of_the_balance_at_the_surface(
    body: law.Body, difference: float
) -> None:
    air = ZERO - difference

    def imbalance(surface: float) -> float:
        outside = surface * law.film(surface, air, 0.0, body, SEA)
        behind = body.insulation + law.ice_resistance(0.3, body.radius)
        return outside - (difference - surface) / behind

    surface = brentq(imbalance, 1e-9, difference, xtol=1e-12)
    exact = surface * law.film(surface, air, 0.0, body, SEA)
    # four substitutions, each cutting the error by four or more
    assert law.heat_flux(ZERO, 0.3, air, 0.0, body, SEA) == pytest.approx(exact, rel=3e-4)


def test_the_film_is_convection_and_radiation() -> None:
    pipe, tank = law.pipe(0.02, 0.0), law.tank(0.02, 0.5, 0.0)
    radiation = 4 * law.EMISSIVITY * STEFAN_BOLTZMANN * 268.15**3
    lying = free_horizontal(10.0, 268.15, 0.02, SEA)[0] + radiation
    upright = free_upright(10.0, 268.15, tank.length, SEA)[0] + radiation
    # still air leaves the 0.3 of Churchill & Bernstein's Nusselt number in the blend
    assert law.film(10.0, 263.15, 0.0, pipe, SEA) == pytest.approx(lying, rel=5e-3)
    assert law.film(10.0, 263.15, 0.0, tank, SEA) == pytest.approx(upright, rel=5e-3)


def windy(body: law.Body, air: float, difference: float) -> float:
    """Resistance outside in a wind of 15 m/s, where the film hardly knows the surface."""
    flux = law.heat_flux(ZERO + air + difference, 0.0, ZERO + air, 15.0, body, SEA)
    return difference / flux


@pytest.mark.parametrize("body", [law.pipe(0.03, 0.2), law.tank(0.05, box_area(0.05), 0.3)])
def test_water_cools_by_newtons_law(body: law.Body) -> None:
    resistance = windy(body, -20.0, 28.0)
    closed = resistance * law.sensible(body) * log(35.0 / 20.0)
    found = steady(body, -20.0, 15.0, wind=15.0)
    # midpoint steps far shorter than the time constant; 1e-5 when this was written
    assert found.cold == pytest.approx(closed, rel=1e-4)


@pytest.mark.parametrize("share", [0.05, 0.5, 0.9, 1.0])
@pytest.mark.parametrize("body", [law.pipe(0.03, 0.2), law.tank(0.05, box_area(0.05), 0.3)])
def test_ice_grows_as_stefans_with_a_film(body: law.Body, share: float) -> None:
    resistance = windy(body, -20.0, 20.0)
    closed = law.ice_time(share, 20.0, resistance, body.radius)
    found = steady(body, -20.0, 0.0, wind=15.0, share=share)
    assert found.cold == 0.0
    # steps of a minute; the last drop has the finite heat path of `WHOLE`
    assert found.frozen == pytest.approx(closed, rel=1e-5 if share < 1.0 else 1e-3)


@pytest.mark.parametrize("row", rows("freezing_published.csv"), ids=lambda r: r["body"])
def test_frozen_through_is_planks_equation(row: dict[str, str]) -> None:
    size, outside, difference = 0.05, 12.0, 15.0
    volume_over_area = {"pipe": size / 4, "box 4:2:1": size * 8 / 28}[row["body"]]
    plank = (
        law.DENSITY
        * law.FUSION_HEAT
        / difference
        * (float(row["P"]) * size / outside + float(row["R"]) * size**2 / law.ICE_CONDUCTIVITY)
    )
    ours = law.ice_time(1.0, difference, 1.0 / outside, 2 * volume_over_area)
    # exact for a pipe; the box is taken as round
    tolerance = 1e-3 if row["body"] == "pipe" else 0.01
    assert ours == pytest.approx(plank, rel=tolerance)


@given(share=st.floats(0.01, 0.99), radius=st.floats(0.002, 0.2), outside=st.floats(0.01, 2))
def test_the_time_of_ice_is_the_integral_of_its_resistance(
    share: float, radius: float, outside: float
) -> None:
    shares = np.linspace(0.0, share, 2001)
    resistances = outside + np.array([law.ice_resistance(s, radius) for s in shares])
    heat = 0.5 * law.DENSITY * law.FUSION_HEAT * radius / 10.0
    # trapezoids of a smooth curve, steepest near the end
    assert law.ice_time(share, 10.0, outside, radius) == pytest.approx(
        heat * np.trapezoid(resistances, shares), rel=1e-4
    )


@given(body=bodies, air=st.floats(-40, -1), colder=st.floats(0, 20), start=st.floats(0, 20))
def test_colder_air_never_takes_longer(
    body: law.Body, air: float, colder: float, start: float
) -> None:
    mild, cold = (steady(body, air - more, start, hours=48.0) for more in (0.0, colder))
    # steps fall elsewhere: a part in a thousand
    if np.isfinite(mild.cold):
        assert cold.cold <= mild.cold * 1.001
    if np.isfinite(mild.frozen):
        assert cold.frozen <= mild.frozen * 1.001
    assert cold.most_ice >= mild.most_ice - 1e-3


@given(body=bodies, more=st.floats(0.01, 1.0), air=st.floats(-30, -2))
def test_insulation_delays_the_ice(body: law.Body, more: float, air: float) -> None:
    wrapped = body._replace(insulation=body.insulation + more)
    bare, better = (steady(each, air, hours=48.0) for each in (body, wrapped))
    assert better.most_ice <= bare.most_ice + 1e-6
    if np.isfinite(better.cold):
        assert bare.cold < better.cold


@given(body=bodies, start=st.floats(0.5, 20), air=st.floats(0, 30))
def test_without_frost_there_is_no_ice(body: law.Body, start: float, air: float) -> None:
    found = steady(body, air, start, hours=48.0)
    assert np.isnan(found.frozen)
    assert found.most_ice == 0.0
    assert found.coldest >= ZERO + min(start, air) - 1e-6


def test_it_comes_to_whole_ice_and_no_further() -> None:
    found = steady(law.pipe(0.013, 0.0), -20.0, share=1.0)
    assert found.most_ice == 1.0
    assert found.frozen < 5 * HOUR


def test_ice_melts_when_the_room_warms_and_freezes_again() -> None:
    seconds = np.arange(0.0, 30.0 * HOUR, 600.0)
    air = ZERO + np.where(seconds < 3 * HOUR, -8.0, np.where(seconds < 20 * HOUR, 15.0, -8.0))
    wind = np.zeros_like(air)
    pipe = law.pipe(0.013, 0.0)
    first = law.freeze(seconds[:18], air[:18], wind[:18], ZERO + 5, 0.9, pipe, SEA)
    whole = law.freeze(seconds, air, wind, ZERO + 5, 0.9, pipe, SEA)
    assert 0.3 < first.most_ice < 0.9
    assert np.isnan(first.frozen)
    assert whole.frozen > 21 * HOUR


@given(body=bodies, cuts=st.integers(1, 9))
def test_more_rows_of_the_same_air_change_little(body: law.Body, cuts: int) -> None:
    coarse = np.array([0.0, 12.0, 24.0, 36.0]) * HOUR
    fine = np.linspace(0.0, 36.0, 36 * cuts + 1) * HOUR
    air = ZERO + np.array([8.0, -12.0, -4.0, -15.0])
    one, other = (
        law.freeze(
            times, np.interp(times, coarse, air), np.zeros(times.size), ZERO + 10, 0.5, body, SEA
        )
        for times in (coarse, fine)
    )
    # the error of the steps
    assert one.most_ice == pytest.approx(other.most_ice, abs=2e-3)
    assert one.cold == pytest.approx(other.cold, rel=2e-3, nan_ok=True)


def test_half_an_inch_of_bare_pipe_freezes_in_hours_and_a_tank_in_days() -> None:
    pipe = steady(law.pipe(0.0127, 0.0), -10.0, 10.0)
    tank = steady(law.tank(0.1, box_area(0.1), 0.0), -10.0, 10.0)
    assert pipe.frozen < 3 * HOUR < 24 * HOUR < tank.frozen
