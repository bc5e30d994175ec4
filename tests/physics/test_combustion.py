"""Heat, air and products of burning LP-gas against stoichiometry, formation and printed values."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import combustion
from coldsoak.physics.fuel import COMPONENTS, MOLAR_MASS, molar_mass

HERE = Path(__file__).parent
BTU, POUND, OUNCE, KILOWATT_HOUR, FOOT = 1055.056, 0.45359237, 0.028349523, 3.6e6, 0.3048
OURS = {
    "carbon dioxide [kg/kg]": combustion.carbon_dioxide_per_kg,
    "water [kg/kg]": combustion.water_per_kg,
    "oxygen [kg/kg]": combustion.oxygen_per_kg,
    "air [mol/mol]": combustion.air_per_mol,
    "gross heat [Btu/lb]": lambda gas: combustion.gross_heating_value(gas) * POUND / BTU,
    "gross heat [MJ/kg]": lambda gas: combustion.gross_heating_value(gas) / 1e6,
    "water [oz per 1000 Btu]": lambda gas: (
        combustion.water_per_kg(gas) / combustion.gross_heating_value(gas) * 1000 * BTU / OUNCE
    ),
    "carbon dioxide [kg/kWh]": lambda gas: (
        combustion.carbon_dioxide_per_kg(gas) / combustion.gross_heating_value(gas) * KILOWATT_HOUR
    ),
}


def rows(name):
    lines = (HERE / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def pure(name):
    return np.eye(len(COMPONENTS))[COMPONENTS.index(name)]


gases = (
    st.lists(st.floats(0.0, 1.0), min_size=5, max_size=5)
    .filter(lambda shares: sum(shares) > 0.01)
    .map(lambda shares: np.array(shares) / sum(shares))
)


@pytest.mark.parametrize(
    "row", rows("combustion_published.csv"), ids=lambda row: f"{row['quantity']} {row['source']}"
)
def test_published_values_are_met(row):
    value = OURS[row["quantity"]](pure(row["gas"]))
    assert value == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize("component", range(len(COMPONENTS)))
def test_heating_values_follow_from_heats_of_formation(component):
    formation = {
        row["substance"]: float(row["kJ_per_mol"]) for row in rows("heats_of_formation.csv")
    }
    products = combustion.CARBON[component] * formation["carbon dioxide"]
    products += 0.5 * combustion.HYDROGEN[component] * formation["water"]
    heat = 1e3 * (formation[COMPONENTS[component]] - products)
    # two sets of measurements of isobutane differ by 0.8 kJ/mol, the largest here
    assert combustion.GROSS_HEATING_VALUE[component] == pytest.approx(heat, abs=1e3)


def test_net_heat_of_propane_is_eight_percent_below_gross():
    gas = pure("propane")
    # ISO 6976:1995 table 3 (from memory): 2043.11 kJ/mol net
    assert combustion.NET_HEATING_VALUE[1] == pytest.approx(2043.11e3, abs=20.0)
    ratio = combustion.net_heating_value(gas) / combustion.gross_heating_value(gas)
    assert ratio == pytest.approx(0.92, abs=0.005)


def test_molar_masses_follow_from_the_formulas():
    expected = 0.0120107 * combustion.CARBON + 0.00100794 * combustion.HYDROGEN
    assert pytest.approx(expected, rel=1e-5) == MOLAR_MASS  # atomic weights were revised since


@given(gases)
def test_what_goes_into_a_flame_comes_out(gas):
    taken = 1 + combustion.oxygen_per_kg(gas)
    made = combustion.carbon_dioxide_per_kg(gas) + combustion.water_per_kg(gas)
    assert made == pytest.approx(taken, rel=1e-5)  # molar masses come from two sources


@given(gases)
def test_amounts_per_kilogram_and_per_mole_agree(gas):
    mass = molar_mass(gas)
    water = combustion.water_per_mol(gas) * combustion.MOLAR_MASS_WATER
    assert combustion.water_per_kg(gas) * mass == pytest.approx(water, rel=1e-12)
    air = combustion.oxygen_per_mol(gas) / combustion.OXYGEN_IN_AIR * combustion.MOLAR_MASS_AIR
    assert combustion.air_per_kg(gas) * mass == pytest.approx(air, rel=1e-12)
    carbon = combustion.carbon_dioxide_per_mol(gas) * combustion.MOLAR_MASS_CARBON_DIOXIDE
    assert combustion.carbon_dioxide_per_kg(gas) * mass == pytest.approx(carbon, rel=1e-12)


@given(gases)
def test_the_heat_of_a_blend_lies_between_those_of_its_parts(gas):
    parts = [combustion.gross_heating_value(pure(name)) for name in COMPONENTS]
    assert min(parts) * (1 - 1e-12) <= combustion.gross_heating_value(gas)
    assert combustion.gross_heating_value(gas) <= max(parts) * (1 + 1e-12)


def test_a_burner_takes_its_rating_at_the_standard_atmosphere_and_less_in_thin_air():
    assert combustion.altitude_factor(101_325.0) == 1.0
    # sqrt of the pressure ratio: a quarter of the pressure, half the input
    assert combustion.altitude_factor(101_325.0 / 4) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("feet", "factor"), [(0, 1.0), (-200, 1.0), (2000, 1.0), (2500, 0.9), (5000, 0.8), (40000, 0.0)]
)
def test_the_code_takes_4_percent_per_1000_ft_above_sea_level_beyond_2000_ft(feet, factor):
    # NFPA 54 (read in a copy of the source)
    assert combustion.code_altitude_factor(feet * FOOT) == pytest.approx(factor)


def test_the_code_is_stricter_than_the_physics_of_a_fixed_orifice():
    # standard atmosphere, ISO 2533:1975
    for elevation in (700.0, 1500.0, 3000.0):
        pressure = 101_325 * (1 - 2.25577e-5 * elevation) ** 5.25588
        assert combustion.code_altitude_factor(elevation) < combustion.altitude_factor(pressure)
