"""Heat through the wall: the balance of the surface, its laws, and where conditions break them."""

from math import isfinite, sqrt

import ht
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_bvp
from scipy.optimize import brentq

from coldsoak.physics import film, frost, moistair
from coldsoak.physics.vessel import MATERIALS

SETTLED = 1e-5
"""[K], the stated error of a surface; in W/m2 this times the conductances on both its sides."""

SEA_LEVEL = 101325.0
DRY = 0.0
SIZES = {
    "canister": (0.10, 0.11, 0.0006),
    "20 lb": (0.45, 0.30, 0.003),
    "100 lb": (1.15, 0.37, 0.003),
    "500 gal": (3.0, 0.95, 0.006),
}


def wall(material="steel", *, size="20 lb", upright=True, cover=0.0, sky_view=0.0, emissivity=0.9):
    height, diameter, thickness = SIZES[size]
    conductivity = MATERIALS[material].conductivity
    return film.Wall(
        upright, height, diameter, thickness, conductivity, emissivity, 0.7, sky_view, cover
    )


def outside(air=263.15, *, wind=0.0, vapor_pressure=DRY, sky=None, sun=0.0, pressure=SEA_LEVEL):
    sky = air if sky is None else sky
    return film.Outside(air, wind, vapor_pressure, sky, sun, pressure)


def humid(air, share):
    """Vapor pressure at a relative humidity over water, as weather services give it."""
    return share * moistair.saturation_over_water(air)


temperatures = st.floats(200, 330)
winds = st.floats(0, 20)
walls = st.builds(
    wall,
    st.sampled_from(sorted(MATERIALS)),
    size=st.sampled_from(sorted(SIZES)),
    upright=st.booleans(),
    cover=st.one_of(st.just(0.0), st.floats(0, 1)),
    sky_view=st.floats(0, 1),
    emissivity=st.floats(0.05, 0.98),
)
airs = st.builds(
    lambda air, wind, share, drop, sun, pressure: outside(
        air,
        wind=wind,
        vapor_pressure=humid(air, share),
        sky=air - drop,
        sun=sun,
        pressure=pressure,
    ),
    temperatures,
    winds,
    st.floats(0, 1),
    st.floats(0, 40),
    st.floats(0, 400),
    st.floats(50e3, 108e3),
)
layers = st.one_of(st.just(0.0), st.floats(1e-6, 0.05), st.floats(0, 5))
steady_dry = st.builds(lambda air, wind: outside(air, wind=wind), st.floats(223, 313), winds)
plain_walls = st.builds(
    wall, size=st.sampled_from(sorted(SIZES)), upright=st.booleans(), emissivity=st.floats(0.1, 1)
)


# The parts against the library and the reference fluid


def reference_air(mean, pressure):
    at = ("T", mean, "P", pressure, "Air")
    rho, viscosity = PropsSI("D", *at), PropsSI("V", *at)
    return viscosity / rho, PropsSI("PRANDTL", *at), PropsSI("L", *at)


@pytest.mark.parametrize("pressure", [SEA_LEVEL, 75e3])
@pytest.mark.parametrize("size", sorted(SIZES))
@pytest.mark.parametrize("difference", [0.1, 1.0, 10.0, 40.0])
@pytest.mark.parametrize("mean", [228.15, 258.15, 288.15])
def test_free_convection_in_air_is_the_librarys_with_reference_air(
    mean, difference, size, pressure
):
    """0.3 %: ideal gas 0.3 % in density goes with its square to the power 1/4 to 1/3."""
    height, diameter, _ = SIZES[size]
    nu, pr, conductivity = reference_air(mean, pressure)
    grashof = film.GRAVITY * difference / mean / nu**2
    upright = ht.Nu_vertical_plate_Churchill(pr, grashof * height**3) * conductivity / height
    lying = (
        ht.Nu_horizontal_cylinder_Churchill_Chu(pr, grashof * diameter**3) * conductivity / diameter
    )
    ours = film.free_upright(difference, mean, height, pressure)[0]
    assert ours == pytest.approx(upright, rel=3e-3)
    ours = film.free_horizontal(difference, mean, diameter, pressure)[0]
    assert ours == pytest.approx(lying, rel=3e-3)


@pytest.mark.parametrize("pressure", [SEA_LEVEL, 75e3])
@pytest.mark.parametrize("size", sorted(SIZES))
@pytest.mark.parametrize("wind", [0.1, 1.0, 5.0, 20.0])
@pytest.mark.parametrize("mean", [228.15, 258.15, 288.15])
def test_wind_on_a_cylinder_is_the_librarys_with_reference_air(mean, wind, size, pressure):
    _, diameter, _ = SIZES[size]
    nu, pr, conductivity = reference_air(mean, pressure)
    nusselt = ht.Nu_cylinder_Churchill_Bernstein(wind * diameter / nu, pr)
    ours = film.forced(wind, mean, diameter, pressure)
    assert ours == pytest.approx(nusselt * conductivity / diameter, rel=3e-3)


def test_film_inside_is_the_turbulent_limit_with_propanes_properties():
    """2 %: what the line leaves between -60 and 20 C."""
    for liquid in np.linspace(213.15, 293.15, 9):
        at = ("T", liquid, "Q", 0, "Propane")
        k, cp, rho, mu = (PropsSI(name, *at) for name in ("L", "C", "D", "V"))
        expansion = PropsSI("isobaric_expansion_coefficient", *at)
        pr = mu * cp / k
        factor = 0.387 / (1 + (0.492 / pr) ** (9 / 16)) ** (8 / 27)
        buoyancy = film.GRAVITY * expansion * rho**2 * cp / (mu * k)
        limit = k * factor**2 * buoyancy ** (1 / 3)
        assert film.inside_film(liquid) == pytest.approx(limit, rel=0.02)


def test_film_inside_hardly_matters():
    """Half or twice the film inside changes the heat by less than its share of the resistance."""
    heat = film.wall_heat(253.15, 0.0, outside(wind=2.0), wall())
    inner = (heat.flux / film.inside_film(253.15)) ** 0.75
    assert inner < 0.1 * (263.15 - 253.15)


@given(surface=st.floats(220, 310), air=airs, body=walls)
def test_slope_of_the_film_is_its_derivative(surface, air, body):
    """Within 0.15 % of h per kelvin: wind goes with Re^0.5 to Re^0.85, not just Re^0.6."""
    step = 0.01
    up, down = (film.convection(surface + s, air, body)[0] for s in (step, -step))
    h, fall = film.convection(surface, air, body)
    assert fall == pytest.approx((down - up) / (2 * step), abs=1.5e-3 * h + 0.01 * abs(fall))


# The balance


def balance_error(heat, liquid, layer, air, body):
    """What is left over at the returned surface, from outside and from inside [W/m2]."""
    coefficient, _ = film.convection(heat.surface, air, body)
    dry = (
        coefficient * (air.air - heat.surface)
        + film.radiation(heat.surface, air, body)
        + body.absorptivity * air.sun
    )
    resistance = body.cover + frost.frost_resistance(layer) + body.thickness / body.conductivity
    inner = np.sign(heat.flux) * (abs(heat.flux) / film.inside_film(liquid)) ** 0.75
    conducted = liquid + heat.flux * resistance + inner
    return dry + heat.frost_flux - heat.flux, conducted - heat.surface


def frost_point_of(air):
    return moistair.frost_point(air.vapor_pressure)


def inward_conductance(flux, liquid, layer, body):
    """d flux / d surface [W/(m2 K)] through frost, cover, wall and the film inside."""
    resistance = body.cover + frost.frost_resistance(layer) + body.thickness / body.conductivity
    size = abs(flux) + 1e-9
    return 1 / (resistance + 0.75 * (size / film.inside_film(liquid)) ** 0.75 / size)


@given(liquid=temperatures, layer=layers, air=airs, body=walls)
def test_heat_in_is_convection_radiation_sun_and_latent_at_the_surface(liquid, layer, air, body):
    heat = film.wall_heat(liquid, layer, air, body)
    left_over, gap = balance_error(heat, liquid, layer, air, body)
    both_sides = film.intake(heat.surface, moistair.SUBLIMATION_HEAT, 1.0, air, body).slope
    both_sides += inward_conductance(heat.flux, liquid, layer, body)
    kink = 1e-3 if abs(heat.surface - frost_point_of(air)) < 3e-3 else SETTLED
    assert abs(left_over) < both_sides * kink
    assert abs(gap) < 1e-9


@given(liquid=temperatures, layer=layers, air=airs, body=walls)
def test_latent_heat_is_that_of_the_water_that_settles_at_the_surface(liquid, layer, air, body):
    """Lewis relation at the returned surface; below 0 C all of it is frost."""
    heat = film.wall_heat(liquid, layer, air, body)
    if heat.surface >= film.FREEZING:
        return
    coefficient, _ = film.convection(heat.surface, air, body)
    gap = air.vapor_pressure - moistair.saturation(heat.surface)[0]
    water = frost.vapor_rate(coefficient, gap, air.pressure)
    water *= 1.0 if gap > 0 else frost.covered_share(layer)
    steepness = film.intake(heat.surface, moistair.SUBLIMATION_HEAT, 1.0, air, body).slope
    steep = steepness * (1e-3 if abs(heat.surface - frost_point_of(air)) < 3e-3 else SETTLED)
    steep += 1e-6 * abs(water) * moistair.SUBLIMATION_HEAT  # second order of the last step
    assert heat.frost_flux == pytest.approx(moistair.SUBLIMATION_HEAT * water, abs=steep)
    assert heat.frost_rate == pytest.approx(heat.frost_flux / moistair.SUBLIMATION_HEAT, rel=1e-12)


@given(liquid=temperatures, layer=layers, air=airs, body=walls)
def test_surface_agrees_with_a_root_finder_that_knows_nothing_of_ours(liquid, layer, air, body):
    """Below 0 C, where one formula holds; brentq on the surface, film inside solved by it too."""
    heat = film.wall_heat(liquid, layer, air, body)
    if heat.surface >= film.FREEZING:
        return
    resistance = body.cover + frost.frost_resistance(layer) + body.thickness / body.conductivity
    covered, film_inside = frost.covered_share(layer), film.inside_film(liquid)

    def surplus(flux):
        inner = np.sign(flux) * (abs(flux) / film_inside) ** 0.75
        taken = film.intake(
            liquid + flux * resistance + inner, moistair.SUBLIMATION_HEAT, covered, air, body
        )
        return taken.dry + taken.latent - flux

    coldest = -(liquid - 120) / (resistance + 0.01)  # no surface gets below 120 K here
    ends = sorted((0.0, max(surplus(0.0), coldest)))
    root = brentq(surplus, *ends, xtol=1e-9, rtol=1e-12) if ends[0] < ends[1] else 0.0
    inner = np.sign(root) * (abs(root) / film_inside) ** 0.75
    near_kink = abs(heat.surface - frost_point_of(air)) < 3e-3
    expected = liquid + root * resistance + inner
    assert heat.surface == pytest.approx(expected, abs=1e-3 if near_kink else SETTLED)


@given(liquid=st.floats(150, 400), layer=st.floats(-1, 50), air=airs, body=walls)
def test_every_result_is_a_number(liquid, layer, air, body):
    assert all(isfinite(value) for value in film.wall_heat(liquid, layer, air, body))


@pytest.mark.parametrize("thickness", [0.0, 1e-9])
def test_a_wall_of_no_thickness_is_no_resistance(thickness):
    heat = film.wall_heat(253.15, 0.0, outside(), wall()._replace(thickness=thickness))
    thin = film.wall_heat(253.15, 0.0, outside(), wall()._replace(thickness=1e-5))
    assert heat.flux == pytest.approx(thin.flux, rel=1e-4)


@given(air=st.floats(200, 330), body=walls)
def test_nothing_flows_when_everything_is_at_one_temperature(air, body):
    heat = film.wall_heat(air, 0.0, outside(air), body)
    assert heat.flux == pytest.approx(0, abs=1e-9)
    assert heat.surface == pytest.approx(air, abs=1e-9)


@given(liquid=st.floats(220, 310), layer=layers, air=airs, body=walls)
def test_heat_is_continuous_in_the_liquids_temperature(liquid, layer, air, body):
    """A millikelvin moves the flux by what the conductance outside allows."""
    here = film.wall_heat(liquid, layer, air, body)
    there = film.wall_heat(liquid + 1e-3, layer, air, body)
    steepness = film.intake(here.surface, moistair.SUBLIMATION_HEAT, 1.0, air, body).slope
    # a pinned surface feels wall and film inside instead, at most some hundred W/(m2 K)
    inside = 4 / 3 * film.inside_film(liquid) * (abs(here.flux) / film.inside_film(liquid)) ** 0.25
    assert abs(there.flux - here.flux) < 2e-3 * (steepness + inside) + 0.2


# Frost, dew, melting


def test_frost_grows_on_a_wall_below_the_frost_point():
    air = outside(vapor_pressure=humid(263.15, 0.8))
    heat = film.wall_heat(248.15, 0.0, air, wall())
    assert heat.surface < moistair.frost_point(air.vapor_pressure)
    assert heat.frost_rate > 0
    assert heat.frost_flux == pytest.approx(moistair.SUBLIMATION_HEAT * heat.frost_rate)


def test_frost_of_a_night_is_about_a_millimeter():
    """At -10 C and 80 % beside a liquid at -25 C, ten hours of light wind; common experience."""
    air = outside(wind=1.0, vapor_pressure=humid(263.15, 0.8))
    rate = film.wall_heat(248.15, 0.0, air, wall()).frost_rate
    assert 0.3e-3 < rate * 36e3 / frost.FROST_DENSITY < 3e-3


def test_a_wall_above_the_frost_point_stays_bare():
    air = outside(vapor_pressure=humid(263.15, 0.3))
    heat = film.wall_heat(259.15, 0.0, air, wall())
    assert heat.frost_rate == 0
    assert heat.frost_flux == 0


def test_frost_sublimes_in_drier_air_and_cools_the_wall():
    air = outside(vapor_pressure=humid(263.15, 0.3))
    heat = film.wall_heat(259.15, 0.5, air, wall())
    assert heat.frost_rate < 0
    assert heat.frost_flux < 0


def test_dew_gives_its_heat_and_runs_off():
    air = outside(293.15, vapor_pressure=humid(293.15, 0.7))
    heat = film.wall_heat(279.15, 0.0, air, wall())
    assert heat.surface > film.FREEZING
    assert heat.frost_flux > 0
    assert heat.frost_rate == 0


@given(
    liquid=st.floats(243, 303),
    layer=st.floats(0.3, 5),
    air=st.builds(
        lambda air, wind, share, sun: outside(
            air, wind=wind, vapor_pressure=humid(air, share), sun=sun
        ),
        st.floats(274, 320),
        winds,
        st.floats(0, 1),
        st.floats(0, 400),
    ),
    body=walls,
)
def test_frosted_surface_does_not_pass_freezing(liquid, layer, air, body):
    """0.3 kg/m2 covers the wall but for exp(-30) of it."""
    heat = film.wall_heat(liquid, layer, air, body)
    assert heat.surface <= film.FREEZING + 1e-6


def test_melting_takes_the_surplus_as_heat_of_fusion():
    air = outside(283.15, wind=2.0, vapor_pressure=612.0, sun=100.0)
    heat = film.wall_heat(268.15, 1.0, air, wall())
    assert heat.surface == film.FREEZING
    coefficient, _ = film.convection(film.FREEZING, air, wall())
    dry = coefficient * 10 + film.radiation(film.FREEZING, air, wall()) + 0.7 * 100.0
    melting = (dry - heat.flux) / moistair.FUSION_HEAT
    # the air's vapor, 612 Pa, nearly balances that over the ice, 611.2 Pa
    assert heat.frost_rate == pytest.approx(-melting, rel=0.01)


@given(layer=st.floats(0, 5))
def test_flux_and_rates_are_continuous_as_the_layer_vanishes(layer):
    air = outside(283.15, vapor_pressure=500.0)
    here = film.wall_heat(270.15, layer, air, wall())
    there = film.wall_heat(270.15, layer + 1e-7, air, wall())
    # 1e-7 kg/m2 is 1e-5 of the covering mass, of some hundred W/m2
    assert here.flux == pytest.approx(there.flux, abs=0.02)
    assert here.frost_rate == pytest.approx(there.frost_rate, abs=1e-8)


def test_no_frost_can_be_lost_where_there_is_none():
    for air in (outside(283.15), outside(263.15)):
        assert film.wall_heat(260.15, 0.0, air, wall()).frost_rate == 0


def test_freezing_dew_bridges_dew_and_frost_at_zero():
    """Liquid that crosses 0 C in humid air: surface rises, flux falls, growth falls to none."""
    air = outside(278.15, vapor_pressure=humid(278.15, 0.95))
    liquids = np.linspace(270.0, 274.0, 401)
    heats = [film.wall_heat(liquid, 0.0, air, wall()) for liquid in liquids]
    surfaces = np.array([heat.surface for heat in heats])
    growth = np.array([heat.frost_rate for heat in heats])
    assert (np.diff(surfaces) >= -1e-6).all()
    assert (surfaces == film.FREEZING).any()
    assert (np.diff(growth) <= 1e-9).all()
    assert growth[-1] == 0


def test_result_hardly_depends_on_the_mass_that_covers():
    """Losses fade over 0.01 kg/m2: nothing is left of that choice on a layer of 0.5."""
    air = outside(vapor_pressure=humid(263.15, 0.3))
    heat = film.wall_heat(259.15, 0.5, air, wall())
    coefficient, _ = film.convection(heat.surface, air, wall())
    gap = air.vapor_pressure - moistair.saturation(heat.surface)[0]
    whole = frost.vapor_rate(coefficient, gap, SEA_LEVEL)
    assert heat.frost_rate == pytest.approx(whole, rel=1e-4)


# Laws: a dry wall without sun, sky and surroundings at the steady temperature of the air


@given(air=steady_dry, below=st.floats(0.1, 40), more=winds, body=plain_walls)
def test_more_wind_never_cools_a_cylinder_that_is_colder_than_the_air(air, below, more, body):
    liquid = air.air - below
    calm = film.wall_heat(liquid, 0.0, air, body)
    windy = film.wall_heat(liquid, 0.0, air._replace(wind=air.wind + more), body)
    assert windy.flux >= calm.flux - 1e-6 * calm.flux - 1e-4
    assert windy.bare_flux >= calm.bare_flux - 1e-9


@given(air=steady_dry, below=st.floats(0.1, 40), cover=st.floats(0.01, 1), body=plain_walls)
def test_a_blanket_without_a_heater_never_helps(air, below, cover, body):
    liquid = air.air - below
    bare = film.wall_heat(liquid, 0.0, air, body)
    covered = film.wall_heat(liquid, 0.0, air, body._replace(cover=cover))
    assert covered.flux <= bare.flux
    assert covered.bare_flux <= bare.bare_flux
    fins = (
        film.fin_heat(heat.bare_flux, heat.bare_conductance, body, 0.2, 1.0)
        for heat in (bare, covered)
    )
    assert next(fins) >= next(fins)


@given(air=steady_dry, below=st.floats(0.1, 40), body=plain_walls)
def test_composite_is_worse_than_steel(air, below, body):
    liquid = air.air - below
    composite = body._replace(conductivity=MATERIALS["composite"].conductivity)
    steel_heat = film.wall_heat(liquid, 0.0, air, body)
    composite_heat = film.wall_heat(liquid, 0.0, air, composite)
    assert composite_heat.flux <= steel_heat.flux
    fins = [
        film.fin_heat(heat.bare_flux, heat.bare_conductance, material, 0.3, 0.9)
        for heat, material in ((steel_heat, body), (composite_heat, composite))
    ]
    assert fins[1] < fins[0]


@given(air=airs, below=st.floats(0, 40), layer=layers, body=walls)
def test_warmer_liquid_takes_less(air, below, layer, body):
    cold = film.wall_heat(air.air - below - 1, layer, air, body)
    warm = film.wall_heat(air.air - below, layer, air, body)
    # dry frost in still air can leave a wiggle of a few W/m2 where surface and air meet
    assert warm.flux <= cold.flux + 1e-4 or layer > 0


# Where conditions break the laws


def test_under_a_clear_sky_a_blanket_keeps_a_cylinder_warmer():
    """Liquid 2 K under the air, radiating to a sky 25 K colder: it loses heat, less so covered."""
    air = outside(sky=238.15, wind=0.5)
    bare = film.wall_heat(261.15, 0.0, air, wall(sky_view=0.5))
    covered = film.wall_heat(261.15, 0.0, air, wall(sky_view=0.5, cover=0.3))
    assert bare.flux < covered.flux < 0


def test_wind_cools_a_cylinder_that_dry_frost_sublimes_from():
    """0.1 K under dry air, wind brings little heat and takes much vapor away."""
    air = outside(268.15, vapor_pressure=humid(268.15, 0.2))
    calm = film.wall_heat(268.05, 0.5, air._replace(wind=0.5), wall())
    windy = film.wall_heat(268.05, 0.5, air._replace(wind=8.0), wall())
    assert windy.flux < calm.flux < 0


def test_a_blanket_helps_a_cylinder_that_dry_frost_sublimes_from():
    air = outside(268.15, wind=3.0, vapor_pressure=humid(268.15, 0.2))
    bare = film.wall_heat(268.05, 0.5, air, wall())
    covered = film.wall_heat(268.05, 0.5, air, wall(cover=0.3))
    assert bare.flux < covered.flux


def test_after_a_warm_afternoon_a_blanket_keeps_heat_and_wind_takes_it():
    air = outside(258.15)
    calm, windy = (film.wall_heat(268.15, 0.0, air._replace(wind=w), wall()) for w in (0.5, 8.0))
    covered = film.wall_heat(268.15, 0.0, air, wall(cover=0.3))
    assert windy.flux < calm.flux < covered.flux < 0


def test_in_the_sun_wind_cools_a_covered_cylinder():
    """The sun makes the outer surface of a cover warmer than the air."""
    sunny = outside(sun=300.0)
    body = wall(cover=0.3)
    calm, windy = (film.wall_heat(258.15, 0.0, sunny._replace(wind=w), body) for w in (0.5, 8.0))
    assert calm.surface > sunny.air
    assert windy.flux < calm.flux


def test_frost_first_warms_the_wall_and_then_insulates_it():
    humid_air = outside(wind=1.0, vapor_pressure=humid(263.15, 0.9))
    dry = film.wall_heat(248.15, 0.0, outside(wind=1.0), wall())
    thin, thick = (film.wall_heat(248.15, layer, humid_air, wall()) for layer in (0.0, 5.0))
    assert thin.flux > dry.flux > thick.flux


# The textbook's tank and the fin


def test_bare_flux_and_its_conductance_belong_together():
    body, air = wall(sky_view=0.4), outside(sky=243.15, wind=1.0, sun=20.0)
    up, down = (film.wall_heat(250.15 + s, 0.0, air, body).bare_flux for s in (0.01, -0.01))
    heat = film.wall_heat(250.15, 0.0, air, body)
    # as the slope of the film: 0.15 % of h per kelvin, at 13 K
    assert heat.bare_conductance == pytest.approx((down - up) / 0.02, rel=0.02)


def test_fin_is_the_solution_of_its_equation():
    """k t theta'' = h theta - q, held at the contact line, insulated at the far end."""
    body, dry_area, line = wall(), 0.25, 0.94
    heat = film.wall_heat(253.15, 0.0, outside(wind=2.0), body)
    lead = body.conductivity * body.thickness
    length = dry_area / line

    def slope(x, y):
        return np.vstack([y[1], (heat.bare_conductance * y[0] - heat.bare_flux) / lead])

    def ends(a, b):
        return np.array([a[0], b[1]])

    x = np.linspace(0, length, 50)
    solution = solve_bvp(slope, ends, x, np.zeros((2, x.size)), tol=1e-8)
    expected = lead * solution.sol(0.0)[1] * line
    ours = film.fin_heat(heat.bare_flux, heat.bare_conductance, body, dry_area, line)
    assert ours == pytest.approx(expected, rel=1e-6)  # the solver's tolerance


def test_short_fin_takes_everything_and_long_fin_its_own_length():
    body = wall()
    short = film.fin_heat(100.0, 10.0, body, 1e-6, 1.0)
    long = film.fin_heat(100.0, 10.0, body, 1e6, 1.0)
    own_length = sqrt(body.conductivity * body.thickness / 10.0)
    assert short == pytest.approx(100.0 * 1e-6, rel=1e-6)
    assert long == pytest.approx(100.0 * own_length)


@given(dry=st.floats(0, 10), line=st.floats(0, 10), flux=st.floats(-500, 500))
def test_fin_never_takes_more_than_its_whole_surface(dry, line, flux):
    heat = film.fin_heat(flux, 12.0, wall(), dry, line)
    assert isfinite(heat)
    assert abs(heat) <= abs(flux) * dry * (1 + 1e-12) + 1e-300  # subnormal numbers round


def test_fin_doubles_the_heat_of_a_nearly_empty_steel_cylinder():
    """A tenth of a 20-lb steel cylinder wet: what design and experience say of the dry wall."""
    heat = film.wall_heat(253.15, 0.0, outside(wind=1.0), wall())
    wet_area, dry_area, line = 0.08, 0.31, 0.90
    fin = film.fin_heat(heat.bare_flux, heat.bare_conductance, wall(), dry_area, line)
    assert 0.7 < fin / (heat.flux * wet_area) < 2.5
    composite = wall("composite")
    fin = film.fin_heat(heat.bare_flux, heat.bare_conductance, composite, dry_area, line)
    assert fin / (heat.flux * wet_area) < 0.2
