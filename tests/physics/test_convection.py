"""Convection against the `ht` library point by point, worked examples, and the spread of films."""

import csv
from pathlib import Path

import ht
import numpy as np
import pytest
from ht.conv_free_immersed import vertical_cylinder_correlations
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import convection

SAME_FORMULA = 1e-12
"""Two writings of one formula differ by rounding only."""

RAYLEIGH = np.geomspace(1e3, 1e11, 17)
REYNOLDS = np.geomspace(1e2, 1e6, 17)
PRANDTL = [0.69, 0.71, 0.74, 3.0]


def rows(name):
    lines = (Path(__file__).parent / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("prandtl", PRANDTL)
@pytest.mark.parametrize("rayleigh", RAYLEIGH)
def test_free_convection_is_that_of_the_library(rayleigh, prandtl):
    grashof = rayleigh / prandtl
    upright = ht.Nu_vertical_plate_Churchill(prandtl, grashof)
    lying = ht.Nu_horizontal_cylinder_Churchill_Chu(prandtl, grashof)
    ours = convection.upright_nusselt, convection.horizontal_nusselt
    assert ours[0](rayleigh, prandtl) == pytest.approx(upright, rel=SAME_FORMULA)
    assert ours[1](rayleigh, prandtl) == pytest.approx(lying, rel=SAME_FORMULA)


@pytest.mark.parametrize("prandtl", PRANDTL)
@pytest.mark.parametrize("reynolds", REYNOLDS)
def test_crossflow_is_that_of_the_library(reynolds, prandtl):
    expected = ht.Nu_cylinder_Churchill_Bernstein(reynolds, prandtl)
    ours = convection.crossflow_nusselt(reynolds, prandtl)
    assert ours == pytest.approx(expected, rel=SAME_FORMULA)


@pytest.mark.parametrize("row", rows("convection_examples.csv"), ids=lambda r: r["law"])
def test_worked_examples_come_out(row):
    law = getattr(convection, row["law"])
    ours = law(float(row["flow_number"]), float(row["prandtl"]))
    assert ours == pytest.approx(float(row["nusselt"]), abs=float(row["last_digit"]))


@given(
    rayleigh=st.floats(0, 1e12), more=st.floats(1, 1e3), law=st.sampled_from(["upright", "lying"])
)
def test_free_convection_grows_with_the_difference(rayleigh, more, law):
    still = {"upright": convection.UPRIGHT_STILL, "lying": convection.HORIZONTAL_STILL}[law]
    nusselt, power = convection.free_nusselt(still, 0.325, rayleigh)
    assert nusselt <= convection.free_nusselt(still, 0.325, rayleigh * more)[0]
    assert 0 <= power < 1 / 3


@given(rayleigh=st.floats(1, 1e12))
def test_power_is_the_logarithmic_derivative(rayleigh):
    up, down = (convection.free_nusselt(0.825, 0.325, rayleigh * (1 + e))[0] for e in (1e-5, -1e-5))
    _, power = convection.free_nusselt(0.825, 0.325, rayleigh)
    # central difference: 1e-10 of curvature, 1e-11 of cancellation over 2e-5
    assert power == pytest.approx((up - down) / (2e-5 * (up + down) / 2), rel=1e-5, abs=1e-9)


@given(slow=st.floats(0, 1e6), more=st.floats(0, 1e6))
def test_more_wind_never_takes_less(slow, more):
    assert convection.crossflow_nusselt(slow, 0.71) <= convection.crossflow_nusselt(
        slow + more, 0.71
    )


def test_published_films_of_one_cylinder_spread_fivefold():
    """Why the film is carried as an uncertainty: an upright 20-lb cylinder, still air, 10 K.

    Eleven published correlations as the `ht` library collects them, in W/(m2 K). Ours is one of
    them and lies near their middle.
    """
    height, diameter, conductivity, prandtl, grashof = 0.45, 0.30, 0.0232, 0.713, 2.13e8
    films = sorted(
        ht.Nu_vertical_cylinder(prandtl, grashof, L=height, D=diameter, Method=name)
        * conductivity
        / height
        for name in vertical_cylinder_correlations
    )
    ours = convection.upright_nusselt(grashof * prandtl, prandtl) * conductivity / height
    assert len(films) == 11
    assert films[0] < 2.0
    assert films[-1] > 9.7
    assert films[3] < ours < films[-4]
