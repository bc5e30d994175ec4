"""What is in a closed cylinder: nothing is lost in the split, and its heat adds up.

The cylinder is a 20-lb size, 21.6 L; 8.4 kg is its fill.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from nights import BUTANE, HALF, LEAN, PROPANE, WITH_ETHANE, celsius, moles

from coldsoak.night.contents import settle, settle_fully, unsettled
from coldsoak.night.records import Floats, Record
from coldsoak.physics.fuel import GAS_CONSTANT, saturation_pressure, vapor_molar_volume

VOLUME = 0.0216
BLENDS = {
    "propane": PROPANE,
    "lean": LEAN,
    "half": HALF,
    "with ethane": WITH_ETHANE,
    "butane": BUTANE,
}
blends = pytest.mark.parametrize("blend", BLENDS.values(), ids=BLENDS)
masses = pytest.mark.parametrize("kilograms", [0.03, 0.2, 2.0, 8.4])
colds = pytest.mark.parametrize("degrees", [-40.0, -20.0, 0.0, 25.0])

FILLED = 2.0
"""Contents from which on the liquid is more than the vapor in heat [kg]."""


def settled(temperature: float, amounts: Floats) -> Record:
    """Contents that stand still."""
    contents = unsettled(amounts)
    settle_fully(temperature, amounts, VOLUME, contents)
    return contents


@blends
@masses
@colds
def test_liquid_and_vapor_together_are_all_there_is(
    blend: tuple[float, ...], kilograms: float, degrees: float
) -> None:
    amounts = moles(kilograms, blend)
    contents = settled(celsius(degrees), amounts)
    liquid = amounts.sum() - contents.vapor_moles
    parts = liquid * contents.liquid + contents.vapor_moles * contents.vapor
    assert parts == pytest.approx(amounts, rel=1e-9)


@blends
@masses
@colds
def test_liquid_and_vapor_fill_the_cylinder(
    blend: tuple[float, ...], kilograms: float, degrees: float
) -> None:
    amounts = moles(kilograms, blend)
    contents = settled(celsius(degrees), amounts)
    each = vapor_molar_volume(celsius(degrees), contents.pressure, contents.vapor)
    # 1e-5: without liquid the pressure is settled to a few parts in a million only.
    assert contents.liquid_volume + contents.vapor_moles * each == pytest.approx(VOLUME, rel=1e-5)


def test_propane_in_a_closed_cylinder_has_its_saturation_pressure() -> None:
    contents = settled(celsius(-20.0), moles(8.4, PROPANE))
    assert contents.pressure == saturation_pressure(1, celsius(-20.0))


def test_the_vapor_of_a_blend_is_lighter_than_its_liquid() -> None:
    contents = settled(celsius(-20.0), moles(8.4, HALF))
    assert contents.vapor[1] > 0.75 > contents.liquid[1]


@blends
@colds
def test_one_pass_after_a_tenth_of_a_kelvin_is_as_good_as_many(
    blend: tuple[float, ...], degrees: float
) -> None:
    amounts = moles(8.4, blend)
    full = settled(celsius(degrees), amounts)
    once = settled(celsius(degrees) - 0.1, amounts)
    settle(celsius(degrees), amounts, VOLUME, once)
    # The split moves by 1e-3 of the vapor that is there, which is 1 % of the moles: 1e-5.
    assert once.pressure == pytest.approx(full.pressure, rel=1e-5)


def energy_slope(temperature: float, amounts: Floats) -> float:
    """Change of the energy with temperature, by a central difference [J/K]."""
    return (
        settled(temperature + 0.01, amounts).energy - settled(temperature - 0.01, amounts).energy
    ) / 0.02


def heat_of_drawing(temperature: float, amounts: Floats) -> float:
    """Heat that keeps the temperature while a mole of vapor is drawn, by a difference [J/mol]."""
    contents = settled(temperature, amounts)
    drawn = 1e-4 * amounts.sum() * contents.vapor
    before, after = settled(temperature, amounts + drawn), settled(temperature, amounts - drawn)
    return (after.energy - before.energy) / (2.0 * drawn.sum()) + contents.vapor_enthalpy


@blends
@colds
def test_the_heat_capacity_is_the_slope_of_the_energy(
    blend: tuple[float, ...], degrees: float
) -> None:
    amounts = moles(8.4, blend)
    # 1 %: it leaves out that liquid swells and that vapor departs from the gas law while the
    # temperature moves. The march closes the energy itself (feed.close_energy), not by this.
    slope = energy_slope(celsius(degrees), amounts)
    assert settled(celsius(degrees), amounts).heat_capacity == pytest.approx(slope, rel=0.01)


@blends
@colds
def test_the_heat_capacity_of_a_quarter_fill_is_the_slope_within_a_tenth(
    blend: tuple[float, ...], degrees: float
) -> None:
    amounts = moles(FILLED, blend)
    # 10 %: as above; now the vapor is a third of the heat.
    slope = energy_slope(celsius(degrees), amounts)
    assert settled(celsius(degrees), amounts).heat_capacity == pytest.approx(slope, rel=0.1)


@colds
@pytest.mark.parametrize("kilograms", [FILLED, 8.4])
def test_the_heat_of_drawing_propane_is_exact(degrees: float, kilograms: float) -> None:
    amounts = moles(kilograms, PROPANE)
    heat = heat_of_drawing(celsius(degrees), amounts)
    assert settled(celsius(degrees), amounts).draw_heat == pytest.approx(heat, rel=1e-9)


@blends
@colds
def test_the_heat_of_drawing_from_a_blend_leaves_out_that_the_liquid_changes(
    blend: tuple[float, ...], degrees: float
) -> None:
    amounts = moles(8.4, blend)
    # 0.3 % of a full cylinder: the liquid that grows heavier takes a little vapor back.
    heat = heat_of_drawing(celsius(degrees), amounts)
    assert settled(celsius(degrees), amounts).draw_heat == pytest.approx(heat, rel=0.003)


def test_the_heat_of_drawing_is_a_little_more_than_the_latent_heat() -> None:
    contents = settled(celsius(-20.0), moles(8.4, PROPANE))
    # What is drawn boils, and what fills the volume that the liquid leaves: v_l / v_v = 0.8 %.
    assert 1.005 < contents.draw_heat / contents.latent < 1.012


@blends
@pytest.mark.parametrize("degrees", [5.0, 20.0, 35.0])
def test_vapor_alone_keeps_to_the_real_gas_law(blend: tuple[float, ...], degrees: float) -> None:
    amounts = moles(0.05, blend)
    contents = settled(celsius(degrees), amounts)
    ideal = amounts.sum() * GAS_CONSTANT * celsius(degrees) / VOLUME
    assert contents.liquid_volume == 0.0
    # 1/Z - 1 of these gases at 1.2 bar is 1 to 4 %.
    assert 0.95 * ideal < contents.pressure < 0.995 * ideal


@blends
def test_vapor_alone_gains_pressure_as_it_warms(blend: tuple[float, ...]) -> None:
    amounts = moles(0.05, blend)
    cool, warm = settled(celsius(10.0), amounts), settled(celsius(35.0), amounts)
    # By the gas law 8.8 %, and up to 0.7 % more because it departs less from it.
    assert warm.pressure / cool.pressure == pytest.approx(308.15 / 283.15, rel=0.01)


@pytest.mark.parametrize("degrees", [-30.0, 0.0, 30.0])
@blends
def test_nothing_jumps_where_the_last_liquid_boils(
    blend: tuple[float, ...], degrees: float
) -> None:
    temperature = celsius(degrees)
    one = moles(1.0, blend)
    low, high = 1e-4, 1.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        dry = settled(temperature, middle * one).liquid_volume == 0.0
        low, high = (middle, high) if dry else (low, middle)
    last, first = settled(temperature, low * one), settled(temperature, high * one)
    assert last.pressure == pytest.approx(first.pressure, rel=1e-4)
    assert last.energy == pytest.approx(first.energy, abs=1e-3 * abs(first.energy))


@given(
    st.lists(st.floats(0.0, 1.0), min_size=5, max_size=5).filter(lambda x: sum(x) > 0.01),
    st.floats(1e-6, 9.2),
    st.floats(-60.0, 55.0),
)
def test_every_amount_at_every_temperature_has_a_finite_state(
    blend: list[float], kilograms: float, degrees: float
) -> None:
    contents = settled(celsius(degrees), moles(kilograms, blend))
    numbers = np.concatenate([np.ravel(contents[name]) for name in contents.dtype.names])
    assert np.isfinite(numbers).all()
    assert contents.pressure > 0.0


@given(st.floats(0.05, 1.0), st.floats(-60.0, 40.0), st.floats(0.1, 9.0))
def test_a_warmer_cylinder_has_more_pressure_and_more_energy(
    propane: float, degrees: float, kilograms: float
) -> None:
    amounts = moles(kilograms, (0.0, propane, 0.0, 0.0, 1.0 - propane))
    cold, warm = settled(celsius(degrees), amounts), settled(celsius(degrees + 1.0), amounts)
    assert warm.pressure > cold.pressure
    assert warm.energy > cold.energy
