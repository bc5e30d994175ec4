"""Panels: what must hold at any place, and pvlib's own chain of models beside it."""

import subprocess
import sys
from dataclasses import replace
from datetime import datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pvlib import pvsystem

from coldsoak.physics.sun import sun_position
from coldsoak.rig.electric import Solar
from coldsoak.weather.solar import LOWEST_SUN, light_on_cells, panel_power
from coldsoak.weather.table import WeatherTable

START = datetime(2026, 1, 16, 0)
PANELS = Solar(
    power=100.0,
    tilt=np.radians(60.0),
    azimuth=np.pi,
    snow=0.0,
    efficiency=0.8,
    coefficient=0.004,
)
SAME_FORMULA = 1e-9
"""The same formulas called in another order; cosines lose a few digits at grazing angles."""


def day(beam=700.0, diffuse=60.0, air=258.15, wind=2.0, latitude=46.9):
    """An invented clear day at Greenwich's meridian, one row every half hour."""
    seconds = np.arange(49) * 1800.0
    days = (START - datetime(2000, 1, 1, 12)).days + 0.5 + seconds / 86400.0
    elevation, azimuth = sun_position(days, latitude, 0.0)
    lit = elevation > 0.0
    beam, diffuse = np.where(lit, beam, 0.0), np.where(lit, diffuse, 0.0)
    same = np.ones_like(seconds)
    return WeatherTable(
        seconds=seconds,
        air=air * same,
        wind=wind * same,
        wind_at_cylinder=False,
        vapor_pressure=100.0 * same,
        sky=240.0 * same,
        beam=beam,
        diffuse=diffuse,
        global_=diffuse + beam * np.sin(np.maximum(elevation, 0.0)),
        sun_elevation=elevation,
        sun_azimuth=azimuth,
        station_pressure=85e3 * same,
        source="invented",
        notes=(),
    )


def watt_hours(panels=PANELS, weather=None):
    weather = day() if weather is None else weather
    return float(np.trapezoid(panel_power(panels, weather, START), weather.seconds)) / 3600.0


def test_panels_in_their_rated_light_and_warmth_give_their_rated_power():
    # 1000 W/m2 on cells at 25 C: the air as much colder as the cells are warmer in it
    weather = day(beam=1000.0, diffuse=0.0)
    noon = int(np.argmax(weather.sun_elevation))
    facing = replace(
        PANELS,
        tilt=np.pi / 2 - weather.sun_elevation[noon],
        azimuth=weather.sun_azimuth[noon],
        efficiency=1.0,
    )
    bare = replace(weather, global_=np.zeros_like(weather.beam))
    cool = replace(bare, air=bare.air * 0.0 + 298.15 - 1000.0 / (25.0 + 6.84 * 2.0))
    assert panel_power(facing, cool, START)[noon] == pytest.approx(100.0, rel=SAME_FORMULA)


def test_the_beam_is_that_of_pvlibs_own_chain():
    weather = day(diffuse=0.0)
    dark = replace(weather, global_=np.zeros_like(weather.beam))
    system = pvsystem.PVSystem(
        surface_tilt=60.0,
        surface_azimuth=180.0,
        module_parameters={"pdc0": 100.0, "gamma_pdc": -0.004, "K": 4.0, "L": 0.002, "n": 1.526},
        temperature_model_parameters={"u0": 25.0, "u1": 6.84},
    )
    elevation = np.degrees(dark.sun_elevation)
    sun = 90.0 - elevation, np.degrees(dark.sun_azimuth)
    beam = np.where(elevation > LOWEST_SUN, dark.beam, 0.0)
    incidence = system.get_aoi(*sun)
    plane = system.get_irradiance(
        *sun, beam, dark.global_, dark.diffuse, dni_extra=1400.0, albedo=0.65
    )
    light = plane["poa_direct"] * system.get_iam(incidence, iam_model="physical")
    cells = system.get_cell_temperature(light, dark.air - 273.15, dark.wind, model="faiman")
    theirs = 0.8 * np.asarray(system.pvwatts_dc(light, cells))
    assert panel_power(PANELS, dark, START) == pytest.approx(theirs, rel=SAME_FORMULA, abs=1e-9)


def test_even_light_on_level_panels_is_the_diffuse_light_less_reflection():
    weather = day(beam=0.0, diffuse=100.0)
    light = light_on_cells(replace(PANELS, tilt=0.0), weather, START)
    lit = weather.diffuse > 0.0
    # a glass cover sends back 4 to 6 % of even light (Marion 2017, fig. 3: 0.95 at tilt 0)
    assert light[lit] / 100.0 == pytest.approx(0.95, abs=0.01)
    assert (light[~lit] == 0.0).all()


def test_steep_panels_beat_level_ones_in_winter():
    assert watt_hours() > 1.5 * watt_hours(replace(PANELS, tilt=0.0))


def test_snow_on_the_ground_adds_to_upright_panels():
    weather = day(beam=0.0)
    bare = replace(weather, global_=np.zeros_like(weather.beam))
    upright = replace(PANELS, tilt=np.pi / 2)
    assert watt_hours(upright, weather) > watt_hours(upright, bare)


def test_panels_to_the_pole_get_no_beam():
    north = replace(PANELS, azimuth=0.0, tilt=np.pi / 2)
    assert watt_hours(north, day(diffuse=0.0)) < 0.2 * watt_hours(weather=day(diffuse=0.0))


@given(cold=st.floats(0.0, 40.0))
def test_cold_cells_give_more_by_their_coefficient(cold):
    warm, cool = (day(air=air) for air in (280.0, 280.0 - cold))
    ours = panel_power(PANELS, cool, START) - panel_power(PANELS, warm, START)
    light = light_on_cells(PANELS, warm, START)
    expected = 0.8 * 100.0 * light / 1000.0 * 0.004 * cold
    assert ours == pytest.approx(expected, rel=1e-9, abs=1e-9)


@given(
    power=st.floats(0, 1000),
    tilt=st.floats(0, np.pi / 2),
    azimuth=st.floats(0, 2 * np.pi),
    snow=st.floats(0, 1),
    beam=st.floats(0, 1000),
    latitude=st.floats(-70, 70),
)
def test_power_is_never_negative_nor_more_than_the_light(
    power, tilt, azimuth, snow, beam, latitude
):
    panels = replace(PANELS, power=power, tilt=tilt, azimuth=azimuth, snow=snow)
    weather = day(beam=beam, latitude=latitude)
    found = panel_power(panels, weather, START)
    # cells at -50 C at the coldest give 30 % over their rating
    most = 1.3 * 0.8 * (1.0 - snow) * power * light_on_cells(panels, weather, START) / 1000.0
    assert (found >= 0.0).all()
    assert (found <= most + 1e-9).all()


def test_covered_panels_give_nothing_and_night_neither():
    assert watt_hours(replace(PANELS, snow=1.0)) == 0.0
    weather = day()
    assert (panel_power(PANELS, weather, START)[weather.sun_elevation <= 0.0] == 0.0).all()


def test_pvlib_is_loaded_for_panels_only():
    code = "import sys, coldsoak.weather.solar; print('pvlib' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
