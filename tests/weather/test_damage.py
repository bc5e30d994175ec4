"""Damaged files end in a table or in a WeatherError, and a table has no hole."""

from dataclasses import fields
from datetime import datetime
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from coldsoak.errors import WeatherError
from coldsoak.weather.read import read_weather

DATA = Path(__file__).parent / "data"
RIDGE = SimpleNamespace(elevation=1450.0, latitude=46.9, longitude=-113.4)
ONE_FOLDER = settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
PIECES = st.sampled_from(
    [",", ";", "\n", "\r", '"', "#", "[", "]", "nan", "-", "1e999", "999", "-9900", "Z", "\0",
     "+14:00", "é", "\x85", "2026-02-30", "24:00", "0", " ", "time", "air [degF]", "," * 40]
)  # fmt: skip
DAMAGE = st.lists(st.tuples(st.floats(0, 1), st.integers(0, 12), PIECES), min_size=1, max_size=4)


def damaged(text, damage):
    """A text in which some stretches are replaced by others."""
    for share, length, piece in damage:
        at = int(share * len(text))
        text = text[:at] + piece + text[at + length :]
    return text


def read_or_refuse(content, name, folder, start):
    """Read; a WeatherError of one line is fine, and so is a table of finite numbers."""
    (folder / name).write_bytes(content)
    try:
        table = read_weather(Path(name), start=start, length=14400.0, place=RIDGE, folder=folder)
    except WeatherError as error:
        refusal = str(error)
    else:
        refusal = ""
        require_whole(table)
    assert "\n" not in refusal
    assert not refusal or name in refusal


def require_whole(table):
    """Every value finite, the trip covered, the air believable."""
    for field in fields(table):
        values = getattr(table, field.name)
        if isinstance(values, np.ndarray):
            assert np.isfinite(values).all(), field.name
    assert table.seconds[0] == 0.0
    assert table.seconds[-1] == 14400.0
    assert 203.0 <= table.air.min() <= table.air.max() <= 334.0


@ONE_FOLDER
@given(DAMAGE)
def test_a_damaged_csv_is_read_or_refused(tmp_path, damage):
    text = damaged((DATA / "invented_ridge.csv").read_text(), damage)
    read_or_refuse(text.encode(), "trip.csv", tmp_path, datetime(2026, 1, 16, 16))


@ONE_FOLDER
@given(st.binary(max_size=300))
def test_random_bytes_are_refused(tmp_path, content):
    with pytest.raises(WeatherError):
        read_weather_bytes(content, tmp_path)


def read_weather_bytes(content, folder):
    (folder / "trip.csv").write_bytes(content)
    read_weather(
        Path("trip.csv"), start=datetime(2026, 1, 16), length=3600.0, place=RIDGE, folder=folder
    )


@ONE_FOLDER
@given(DAMAGE)
def test_a_damaged_epw_is_read_or_refused(tmp_path, damage):
    text = damaged((DATA / "invented_ridge.epw").read_text(), damage)
    read_or_refuse(text.encode(), "trip.epw", tmp_path, datetime(2026, 1, 1, 4))


@ONE_FOLDER
@given(DAMAGE)
def test_a_damaged_typical_year_is_read_or_refused(tmp_path, damage):
    text = damaged((DATA / "invented_year.csv").read_text(), damage)
    read_or_refuse(text.encode(), "trip.csv", tmp_path, datetime(2026, 1, 1, 4))


temperatures = st.floats(200.0, 340.0)
lists = st.lists(temperatures, max_size=5).map(tuple)


@given(lists, lists, st.floats(-1, 100), st.floats(-0.1, 1.1), st.floats(-90, 90),
       st.floats(-180, 180), st.floats(0.001, 200.0),
       st.datetimes(datetime(1901, 1, 1), datetime(2199, 1, 1)))  # fmt: skip
@settings(max_examples=150, deadline=None)
def test_any_lows_and_highs_anywhere_are_a_curve_between_them_or_refused(
    lows, highs, wind, humidity, latitude, longitude, hours, start
):
    weather = SimpleNamespace(lows=lows, highs=highs, wind=wind, humidity=humidity, sky=0.5)
    place = SimpleNamespace(elevation=None, latitude=latitude, longitude=longitude)
    try:
        table = read_weather(
            weather, start=start, length=hours * 3600.0, place=place, folder=Path()
        )
    except WeatherError:
        return
    assert min(*lows, *highs) - 1e-6 <= table.air.min()
    assert table.air.max() <= max(*lows, *highs) + 1e-6
