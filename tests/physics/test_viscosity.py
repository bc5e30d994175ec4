"""Viscosity of LP-gas vapor against the correlations it was fitted to, and laws of mixing."""

import CoolProp.CoolProp as CP  # noqa: N817
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics.fuel import COMPONENTS
from coldsoak.physics.viscosity import component_viscosity, vapor_viscosity

REFERENCE = ("Ethane", "Propane", "Propylene", "IsoButane", "n-Butane")

gases = (
    st.lists(st.floats(0.0, 1.0), min_size=5, max_size=5)
    .filter(lambda shares: sum(shares) > 0.01)
    .map(lambda shares: np.array(shares) / sum(shares))
)


@pytest.mark.parametrize("component", range(len(COMPONENTS)), ids=COMPONENTS)
@pytest.mark.parametrize("temperature", [215.0, 233.15, 253.15, 273.15, 288.7, 313.15, 330.0])
def test_thin_vapor_has_the_viscosity_of_the_reference_correlations(component, temperature):
    theirs = CP.PropsSI("V", "T", temperature, "P", 1000.0, REFERENCE[component])
    # a quadratic leaves 0.05 % at most
    assert component_viscosity(component, temperature) == pytest.approx(theirs, rel=6e-4)


def test_propane_thickens_little_up_to_the_pressure_of_a_winter_cylinder():
    thin = component_viscosity(1, 273.15)
    saturated = CP.PropsSI("V", "T", 273.15, "Q", 1, "Propane")
    assert saturated == pytest.approx(thin, rel=0.01)  # 0.6 %, left out


@pytest.mark.parametrize("component", range(len(COMPONENTS)), ids=COMPONENTS)
def test_a_mixture_of_one_component_is_that_component(component):
    gas = np.eye(len(COMPONENTS))[component]
    ours = vapor_viscosity(288.7, gas)
    assert ours == pytest.approx(component_viscosity(component, 288.7), rel=1e-12)


@given(gases, st.floats(215.0, 330.0))
def test_a_mixture_lies_near_its_components(gas, temperature):
    own = [component_viscosity(i, temperature) for i in range(len(COMPONENTS)) if gas[i] > 0]
    # Wilke's rule may leave the span of near components by a few tenths of a percent
    assert min(own) * 0.99 <= vapor_viscosity(temperature, gas) <= max(own) * 1.01


@given(st.floats(215.0, 325.0))
def test_warm_gas_is_thicker(temperature):
    for component in range(len(COMPONENTS)):
        cold, warm = (component_viscosity(component, temperature + step) for step in (0.0, 5.0))
        assert warm > cold
