"""Sky temperature, station pressure, and the sun on cylinders and windows."""

import numpy as np
import pvlib
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipe

from coldsoak.physics.sky import (
    STEFAN_BOLTZMANN,
    ambient_irradiance,
    clear_sky_emissivity,
    elliptic_e,
    horizontal_cylinder_irradiance,
    sky_temperature,
    sky_temperature_of_infrared,
    station_pressure,
    upright_cylinder_irradiance,
    window_irradiance,
)

temperatures = st.floats(233.0, 313.0)
vapors = st.floats(1.0, 2000.0)
shares = st.floats(0.0, 1.0)
elevations = st.floats(0.001, np.pi / 2)
slendernesses = st.floats(0.3, 10.0)


def magnus(celsius):
    """Saturation pressure over water [Pa], Alduchov & Eskridge (1996), eq. 21."""
    return 610.94 * np.exp(17.625 * celsius / (celsius + 243.04))


@pytest.mark.parametrize("air_C", range(-40, 11, 5))
@pytest.mark.parametrize("humidity", [0.6, 0.7, 0.8, 1.0])
def test_clear_skies_agree_with_dilley_and_obrien(air_C, humidity):
    """Dilley & O'Brien (1998), Q. J. R. Meteorol. Soc. 124, 1391-1401: W/m2 from the ground up.

    In the humid cold that trips meet. 0.025 is how far published formulas lie apart there
    (in dry summer air these two are 0.045 apart): 2 K of sky temperature at most.
    """
    air, vapor = air_C + 273.15, humidity * magnus(air_C)
    infrared = 59.38 + 113.7 * (air / 273.16) ** 6 + 96.96 * np.sqrt(4.65 * vapor / air / 25.0)
    known = infrared / (STEFAN_BOLTZMANN * air**4)
    assert clear_sky_emissivity(air, vapor) == pytest.approx(known, abs=0.03)


@pytest.mark.parametrize("dew_point_C", range(-13, 25, 3))
def test_clear_skies_agree_with_berdahl_and_martin_where_they_measured(dew_point_C):
    """Berdahl & Martin (1984), Solar Energy 32, 663-664: 0.711 + 0.56 x + 0.73 x2, x = dew/100 C.

    0.055: theirs is the mean of day and night at six US stations, and single hours scatter
    about as much around it; at -13 C, the end of their data, theirs is the lower by 0.05.
    """
    x = dew_point_C / 100.0
    known = 0.711 + 0.56 * x + 0.73 * x**2
    ours = clear_sky_emissivity(dew_point_C + 5.0 + 273.15, magnus(dew_point_C))
    assert ours == pytest.approx(known, abs=0.055)


@given(temperatures, vapors, shares)
def test_a_sky_is_never_warmer_than_the_air_and_never_colder_than_dry_air(air, vapor, cloud):
    """Prata's limit without vapor: 1 - exp(-sqrt(1.2)) = 0.6656."""
    sky = float(sky_temperature(air, vapor, cloud))
    assert 0.6656**0.25 * air - 1e-2 <= sky <= air


@given(temperatures, vapors, shares, shares)
def test_more_cloud_makes_a_warmer_sky(air, vapor, one, other):
    less, more = sorted((one, other))
    assert sky_temperature(air, vapor, less) <= sky_temperature(air, vapor, more) + 1e-9


@given(temperatures)
def test_measured_infrared_gives_back_the_temperature_that_sent_it(sky):
    infrared = STEFAN_BOLTZMANN * sky**4
    assert sky_temperature_of_infrared(infrared) == pytest.approx(sky, rel=1e-12)


def test_station_pressure_is_the_standard_atmospheres():
    """pvlib's form has its constants rounded differently: 0.03 % up to 5000 m."""
    for elevation in range(-300, 5001, 100):
        theirs = pvlib.atmosphere.alt2pres(elevation)
        assert station_pressure(elevation) == pytest.approx(theirs, rel=3e-4)


def test_elliptic_integral_is_scipys():
    """2e-8 is the error that Abramowitz & Stegun state for 17.3.36."""
    m = np.linspace(0.0, 1.0, 1001)
    assert elliptic_e(m) == pytest.approx(ellipe(m), abs=2.1e-8)


def beam_on_cylinder(axis, sun, slenderness):
    """Mean of max(0, n.s) over a cylinder of diameter 1, by quadrature over its side."""
    axis = axis / np.linalg.norm(axis)
    helper = np.array([1.0, 0.0, 0.0]) if abs(axis[0]) < 0.9 else np.array([0.0, 1.0, 0.0])
    one = np.cross(axis, helper)
    one /= np.linalg.norm(one)
    other = np.cross(axis, one)
    around = (np.arange(2000) + 0.5) * 2.0 * np.pi / 2000
    normals = np.outer(np.cos(around), one) + np.outer(np.sin(around), other)
    side = np.maximum(normals @ sun, 0.0).mean() * np.pi * slenderness
    ends = abs(axis @ sun) * np.pi / 4.0
    return (side + ends) / (np.pi * slenderness + np.pi / 2.0)


@given(elevations, slendernesses)
def test_beam_on_an_upright_cylinder_is_the_integral_over_its_surface(elevation, slenderness):
    """1e-6: midpoint rule with 2000 steps around the side."""
    sun = np.array([np.cos(elevation), 0.0, np.sin(elevation)])
    known = beam_on_cylinder(np.array([0.0, 0.0, 1.0]), sun, slenderness)
    ours = upright_cylinder_irradiance(1.0, 0.0, 0.0, elevation, 0.0, slenderness)
    assert ours == pytest.approx(known, rel=1e-5, abs=1e-6)


@pytest.mark.parametrize("elevation", [0.05, 0.3, 0.8, 1.5])
@pytest.mark.parametrize("slenderness", [0.5, 1.5, 4.0])
def test_beam_on_a_lying_cylinder_is_the_integral_over_surface_and_orientation(
    elevation, slenderness
):
    """1e-4: 360 orientations; the integrand has a kink where the sun passes an end."""
    sun = np.array([np.cos(elevation), 0.0, np.sin(elevation)])
    axes = (np.arange(360) + 0.5) * np.pi / 360
    known = np.mean(
        [beam_on_cylinder(np.array([np.cos(a), np.sin(a), 0.0]), sun, slenderness) for a in axes]
    )
    ours = horizontal_cylinder_irradiance(1.0, 0.0, 0.0, elevation, 0.0, slenderness)
    assert ours == pytest.approx(known, rel=1e-4)


@given(st.floats(0.0, 1000.0), st.floats(0.0, 300.0), elevations, shares)
def test_windows_get_the_mean_of_pvlibs_isotropic_sky_over_all_directions(
    beam, diffuse, elevation, albedo
):
    """1e-4: 720 directions, a kink where the sun goes behind the wall."""
    global_ = beam * np.sin(elevation) + diffuse
    facing = np.arange(720) * 0.5
    known = pvlib.irradiance.get_total_irradiance(
        surface_tilt=90.0,
        surface_azimuth=facing,
        solar_zenith=90.0 - np.degrees(elevation),
        solar_azimuth=100.0,
        dni=beam,
        ghi=global_,
        dhi=diffuse,
        albedo=albedo,
        model="isotropic",
    )["poa_global"]
    ours = window_irradiance(beam, diffuse, global_, elevation, albedo)
    assert ours == pytest.approx(np.mean(known), rel=1e-4, abs=1e-9)


def test_an_even_sky_over_dark_ground_gives_half_its_light_to_any_closed_body():
    """Monte Carlo over a flat-ended cylinder's surface, 4 million points: 1e-3 is 4 sigma."""
    draw = np.random.default_rng(7)
    side = 2.0 / 3.0  # of the surface, for height = diameter
    on_side = draw.random(4_000_000) < side
    up = np.where(on_side, 0.0, np.where(draw.random(4_000_000) < 0.5, 1.0, -1.0))
    view_of_sky = 0.5 * (1.0 + up)
    assert ambient_irradiance(100.0, 0.0, 0.0) == pytest.approx(
        100.0 * view_of_sky.mean(), rel=2e-3
    )


@given(st.floats(-np.pi / 2, 0.0), slendernesses)
def test_no_beam_comes_from_below_the_horizon(elevation, slenderness):
    for cylinder in (upright_cylinder_irradiance, horizontal_cylinder_irradiance):
        assert cylinder(500.0, 0.0, 0.0, elevation, 0.5, slenderness) == 0.0
    assert window_irradiance(500.0, 0.0, 0.0, elevation, 0.5) == 0.0


@given(elevations, slendernesses, shares, st.floats(0.0, 1000.0), st.floats(0.0, 300.0))
def test_no_body_gets_more_than_all_there_is(elevation, slenderness, albedo, beam, diffuse):
    global_ = beam * np.sin(elevation) + diffuse
    for cylinder in (upright_cylinder_irradiance, horizontal_cylinder_irradiance):
        got = cylinder(beam, diffuse, global_, elevation, albedo, slenderness)
        assert 0.0 <= got <= 0.5 * beam + 0.5 * diffuse + 0.5 * global_ + 1e-9
