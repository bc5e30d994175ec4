"""A blend drawn slowly in steady cold grows heavier as Rayleigh's distillation says.

The reference knows nothing of the march nor of its fits: a closed volume of propane and n-butane
at one temperature, whose bubble points are flashes of CoolProp's mixture of Helmholtz equations
(Lemmon & Jacobsen 1999, as in its HEOS backend), and whose vapor is taken off (Rayleigh 1902).
"""

from typing import Any, NamedTuple

import numpy as np
import pytest
from CoolProp import CoolProp
from nights import HOUR, SEA_LEVEL, burner, celsius, cylinder, cylinder_states, lit, marched, night
from nights import weather as weather_of
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from coldsoak.night.cylinder import MOLES
from coldsoak.night.records import Floats
from coldsoak.physics.fuel import COMPONENTS, MOLAR_MASS

NEED = SEA_LEVEL + 34.5e3
"""Absolute pressure that the regulator needs [Pa]."""
VOLUME = 0.0216
"""Of the cylinder [m3]."""
HOURS = 15_000.0
WATTS = 10.0
"""So little that the liquid stays within 0.1 K of the air."""

PAIR = [COMPONENTS.index("propane"), COMPONENTS.index("n-butane")]


class Boiling(NamedTuple):
    """Propane and n-butane at a bubble point."""

    pressure: float
    """[Pa]"""
    vapor: float
    """Mole fraction of propane in the vapor."""
    liquid_density: float
    """[mol/m3]"""
    vapor_density: float
    """[mol/m3]"""


def boiling(propane: float, temperature: float, state: Any) -> Boiling:
    """Flash of a liquid with this mole fraction of propane."""
    state.set_mole_fractions([propane, 1.0 - propane])
    state.update(CoolProp.QT_INPUTS, 0.0, temperature)
    return Boiling(
        state.p(),
        state.mole_fractions_vapor()[0],
        state.saturated_liquid_keyed_output(CoolProp.iDmolar),
        state.saturated_vapor_keyed_output(CoolProp.iDmolar),
    )


def closed(moles: Floats, temperature: float, state: Any) -> Boiling:
    """Both phases of ``moles`` (propane, n-butane) that fill the cylinder."""
    total = moles.sum()
    overall = moles[0] / total

    def excess(propane: float) -> float:
        found = boiling(propane, temperature, state)
        vapor = total * (overall - propane) / (found.vapor - propane)
        filled = vapor / found.vapor_density + (total - vapor) / found.liquid_density
        return float(filled - VOLUME)

    leanest = 0.5 * overall
    return boiling(brentq(excess, leanest, overall, xtol=1e-10), temperature, state)


def distilled(moles: Floats, temperature: float) -> Floats:
    """Moles of propane and n-butane left when the pressure has fallen to the need."""
    state = CoolProp.AbstractState("HEOS", "Propane&n-Butane")

    def margin(_: float, left: Floats) -> float:
        return closed(left, temperature, state).pressure - NEED

    margin.terminal = True  # type: ignore[attr-defined]

    def taken(_: float, left: Floats) -> list[float]:
        vapor = closed(left, temperature, state).vapor
        return [-vapor, vapor - 1.0]

    drawn = (0.0, 0.999 * moles.sum())
    done = solve_ivp(taken, drawn, moles, "RK45", events=margin, rtol=1e-6, atol=1e-6)
    return np.asarray(done.y[:, -1])


@pytest.mark.parametrize(
    ("propane", "degrees", "kilograms"),
    [(0.7, -10.0, 8.0), (0.7, -20.0, 8.0), (0.5, -5.0, 8.0), (0.7, -10.0, 3.0)],
)
def test_the_march_leaves_the_residue_of_a_rayleigh_distillation(
    propane: float, degrees: float, kilograms: float
) -> None:
    blend = [0.0] * len(COMPONENTS)
    blend[PAIR[0]], blend[PAIR[1]] = propane, 1.0 - propane
    made = night(
        HOURS,
        weather=weather_of(degrees, hours=HOURS, wind=5.0, humidity=0.1),
        cylinders=[cylinder(kilograms, blend, temperature=degrees)],
        burners=[burner(WATTS)],
        orders=lit(),
    )
    outcome = marched(made, grid=6 * HOUR)
    moles = made.cylinders.moles[0][PAIR]
    left = cylinder_states(outcome)[0, MOLES:][PAIR]
    expected = distilled(moles, celsius(degrees))
    masses = MOLAR_MASS[PAIR]
    assert np.isfinite(outcome.failures.seconds).any()
    liquid = outcome.track.cylinders[:, 0, 0]
    assert np.abs(liquid - celsius(degrees)).max() < 0.1
    # 1 % of the contents is asked for: a bubble pressure within 1 % is a mole fraction of propane
    # within 0.01, and 0.1 K of the liquid a third of that.
    assert left @ masses == pytest.approx(expected @ masses, abs=0.01 * kilograms)
    # The composition at one pressure differs by as much as the two pressures of one composition.
    assert left[0] / left.sum() == pytest.approx(expected[0] / expected.sum(), abs=0.01)


def test_the_residue_of_the_reference_boils_just_at_the_need() -> None:
    state = CoolProp.AbstractState("HEOS", "Propane&n-Butane")
    left = distilled(np.array([100.0, 40.0]), celsius(-10.0))
    # The event of the solver is located to rounding, on an interpolant good to 1e-6.
    assert closed(left, celsius(-10.0), state).pressure == pytest.approx(NEED, rel=1e-5)
