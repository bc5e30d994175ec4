"""Weather from CSV files, right ones and wrong ones."""

from datetime import datetime, timedelta, timezone
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pvlib
import pytest

from coldsoak.errors import WeatherError
from coldsoak.physics.sky import sky_temperature, station_pressure
from coldsoak.weather.humidity import vapor_at_dew_point

NOWHERE = SimpleNamespace(elevation=None, latitude=None, longitude=None)


def hourly(values, header="time, air [degC]", first="2026-01-16T16:00", offset="", step=1.0):
    """A CSV with one value for every hour from `first` on."""
    begin = datetime.fromisoformat(first)
    rows = [
        f"{(begin + timedelta(hours=n * step)).isoformat()}{offset},{value}"
        for n, value in enumerate(values)
    ]
    return "\n".join([header, *rows])


def test_every_row_of_the_trip_stands_in_the_table(read):
    table = read(Path("invented_ridge.csv"), start=datetime(2026, 1, 16, 16), hours=4)
    assert table.seconds.tolist() == [0, 3600, 7200, 10800, 14400]
    assert table.air - 273.15 == pytest.approx([-14.2, -16.0, -17.3, -18.1, -19.0], abs=1e-9)
    assert table.wind.tolist() == [1.6, 1.1, 0.8, 0.6, 0.5]
    assert table.station_pressure == pytest.approx([84970, 84990, 85020, 85040, 85050])
    assert not table.wind_at_cylinder


def test_a_trip_between_the_hours_starts_and_ends_on_the_straight_line(read):
    table = read(Path("invented_ridge.csv"), start=datetime(2026, 1, 16, 16, 30), hours=1.0)
    assert table.seconds.tolist() == [0, 1800, 3600]
    assert table.air - 273.15 == pytest.approx([-15.1, -16.0, -16.65], abs=1e-9)


def test_humidity_is_over_liquid_water_and_clouds_warm_the_sky(read):
    table = read(Path("invented_ridge.csv"))
    vapor = np.array([0.68, 0.71, 0.74, 0.75, 0.76]) * vapor_at_dew_point(table.air)
    assert table.vapor_pressure == pytest.approx(vapor, rel=1e-12)
    cloud = np.array([0.10, 0.0, 0.0, 0.0, 0.0])
    assert table.sky == pytest.approx(sky_temperature(table.air, vapor, cloud), rel=1e-12)


def test_vapor_never_exceeds_saturation_over_ice(read_text):
    table = read_text(hourly(["-20,100"] * 6, "time, air [degC], humidity [%]"))
    assert table.vapor_pressure == pytest.approx(103.24, rel=1e-3)  # over ice, Hyland & Wexler
    assert any("saturation over ice" in note for note in table.notes)


def test_dew_point_counts_before_humidity(read_text):
    table = read_text(hourly(["-5,-15,99"] * 6, "time, air [C], dew point [C], humidity [%]"))
    assert table.vapor_pressure == pytest.approx(vapor_at_dew_point(np.array([258.15]))[0])


def test_units_are_those_of_the_header(read_text):
    header = "Time, Temperature (°F), Wind_speed (km/h), cloud cover (oktas), pressure [inHg]"
    table = read_text(hourly(["-4,36,4,25"] * 6, header))
    assert table.air == pytest.approx(253.15)
    assert table.wind == pytest.approx(10.0)
    assert table.station_pressure == pytest.approx(84659.725)


def test_what_the_file_lacks_is_assumed_and_said(read_text):
    table = read_text(hourly([-20] * 6), place=NOWHERE)
    assert (table.wind == 0.0).all()
    assert (table.beam == 0.0).all()
    assert (table.station_pressure == 101325.0).all()
    for word in ("calm", "70% assumed", "clear sky", "none is counted", "sea level", "latitude"):
        assert any(word in note for note in table.notes), word


def test_pressure_follows_the_elevation_when_nobody_measured_it(read_text):
    table = read_text(hourly([-20] * 6))
    assert table.station_pressure == pytest.approx(float(station_pressure(1450.0)))


def test_global_light_alone_is_split_as_pvlib_splits_it(read_text):
    text = hourly(
        ["-5,150", "-5,250", "-5,300", "-5,280", "-5,200"],
        "time, air [degC], global [W/m2]",
        "2026-01-16T10:00",
        "-07:00",
    )
    table = read_text(text, start=datetime(2026, 1, 16, 10), hours=4)
    zenith = 90.0 - np.degrees(table.sun_elevation)
    known = pvlib.irradiance.erbs(table.global_, zenith, 16)
    assert table.beam == pytest.approx(known["dni"], rel=1e-3)  # day of the year: 16 or 16.7
    assert table.diffuse == pytest.approx(known["dhi"], rel=1e-3)
    assert table.global_ == pytest.approx(table.beam * np.sin(table.sun_elevation) + table.diffuse)


@pytest.mark.parametrize(
    ("columns", "values"),
    [
        ("beam [W/m2], diffuse [W/m2]", "400,60"),
        ("global [W/m2], beam [W/m2]", "220,400"),
        ("global [W/m2], diffuse [W/m2]", "220,60"),
    ],
)
def test_two_irradiances_give_the_third(read_text, columns, values):
    text = hourly([f"-5,{values}"] * 4, f"time, air [C], {columns}", "2026-01-16T12:00", "-07:00")
    table = read_text(text, start=datetime(2026, 1, 16, 12), hours=3)
    assert (table.beam > 0).all()
    assert table.global_ == pytest.approx(table.beam * np.sin(table.sun_elevation) + table.diffuse)


def test_the_small_negative_night_of_a_pyranometer_is_no_sun(read_text):
    table = read_text(hourly(["-5,-3.2"] * 6, "time, air [degC], global [W/m2]"))
    assert (table.global_ == 0.0).all()


def test_measured_infrared_gives_the_sky(read_text):
    table = read_text(hourly(["-20,200"] * 6, "time, air [degC], infrared [W/m2]"))
    assert table.sky == pytest.approx(243.70, abs=0.01)  # (200/5.670374e-8)^(1/4)


# Time


def test_offsets_place_a_trip_that_has_its_own(read_text):
    start = datetime(2026, 1, 17, 0, tzinfo=timezone(timedelta(hours=0)))  # 17:00 at -07:00
    table = read_text(hourly([-10, -11, -12, -13], offset="-07:00"), start=start, hours=1)
    assert table.air - 273.15 == pytest.approx([-11, -12], abs=1e-9)


def test_a_naive_start_is_at_the_files_first_offset_and_the_note_says_so(read_text):
    table = read_text(hourly([-10, -11, -12], offset="-07:00"), hours=2)
    assert table.air[0] - 273.15 == pytest.approx(-10)
    assert any("first offset, UTC-07:00" in note for note in table.notes)


def test_mixed_offsets_are_one_time_line(read_text):
    text = (
        "time, air [degC]\n2026-11-01T00:30-06:00,-1\n2026-11-01T01:30-06:00,-2\n"
        "2026-11-01T01:30-07:00,-3\n2026-11-01T02:30-07:00,-4\n"
    )
    table = read_text(text, start=datetime(2026, 11, 1, 0, 30), hours=3)
    assert table.seconds.tolist() == [0, 3600, 7200, 10800]


def test_a_zone_in_the_header_counts_for_all_rows_and_the_start(read_text):
    table = read_text(
        hourly([-10, -11, -12], "time [America/Denver], air [degC]"),
        start=datetime(2026, 1, 16, 16),
        hours=2,
    )
    assert table.air[0] - 273.15 == pytest.approx(-10)
    utc = read_text(
        hourly([-10, -11, -12], "time [UTC], air [degC]", "2026-01-16T23:00"),
        start=datetime(2026, 1, 16, 16, tzinfo=timezone(timedelta(hours=-7))),
        hours=2,
    )
    assert utc.air == pytest.approx(table.air)
    assert utc.sun_elevation == pytest.approx(table.sun_elevation)


def test_clocks_that_run_the_same_give_the_same_sun(read_text):
    naive = read_text(hourly([-10] * 3), start=datetime(2026, 1, 16, 16), hours=2)
    aware = read_text(hourly([-10] * 3, offset="-08:00"), start=datetime(2026, 1, 16, 16), hours=2)
    assert naive.sun_elevation == pytest.approx(aware.sun_elevation)  # -113.4 / 15 is nearest to -8


DAYLIGHT = {
    "a repeated local hour": (
        "time, air [C]\n2026-11-01T00:00,1\n2026-11-01T01:00,1\n2026-11-01T01:00,1\n",
        datetime(2026, 11, 1),
        "line 4, time: 2026-11-01T01:00:00 twice",
    ),
    "a repeated half hour": (
        "time, air [C]\n2026-11-01T01:00,1\n2026-11-01T01:30,1\n2026-11-01T01:00,1\n",
        datetime(2026, 11, 1, 1),
        "line 4, time: 2026-11-01T01:00:00 after a later time",
    ),
    "a skipped local hour": (
        "time, air [C]\n2026-03-08T00:00,1\n2026-03-08T01:00,1\n2026-03-08T03:00,1\n"
        "2026-03-08T04:00,1\n2026-03-08T05:00,1\n",
        datetime(2026, 3, 8),
        "line 4, time: no 2026-03-08T02:00:00: a gap, or daylight-saving time began",
    ),
    "a time that happens twice in its zone": (
        "time [America/Denver], air [C]\n2026-11-01T00:00,1\n2026-11-01T01:00,1\n",
        datetime(2026, 11, 1),
        "line 3, time: 2026-11-01T01:00:00 happens twice in America/Denver",
    ),
    "a time that its zone skips": (
        "time [America/Denver], air [C]\n2026-03-08T01:00,1\n2026-03-08T02:00,1\n",
        datetime(2026, 3, 8, 1),
        "line 3, time: 2026-03-08T02:00:00 does not exist in America/Denver",
    ),
}


@pytest.mark.parametrize("case", DAYLIGHT)
def test_changes_of_the_clock_ask_for_an_offset(read_text, case):
    text, start, message = DAYLIGHT[case]
    with pytest.raises(WeatherError) as caught:
        read_text(text, start=start, hours=3)
    assert message in str(caught.value)
    assert "UTC offset" in str(caught.value)


# Gaps


def test_a_gap_of_three_hours_is_bridged_and_said(read_text):
    text = hourly([-10, -11]) + "\n2026-01-16T20:00,-14\n2026-01-16T21:00,-15"
    table = read_text(text, hours=5)
    assert np.interp(3 * 3600.0, table.seconds, table.air) - 273.15 == pytest.approx(-13)
    assert any("air: 1 gap of up to 3.0 h" in note for note in table.notes)


def test_a_longer_gap_is_refused(read_text):
    text = hourly([-10, -11]) + "\n2026-01-16T20:01,-14\n2026-01-16T21:00,-15"
    with pytest.raises(WeatherError, match=r"trip.csv, line 4, air: no value from .* \(3.0 h\)"):
        read_text(text, hours=5)


def test_a_gap_outside_the_trip_does_not_matter(read_text):
    text = "time, air [C]\n2026-01-15T00:00,1\n" + hourly([-10, -11, -12]).split("\n", 1)[1]
    assert read_text(text, hours=2).air.size == 3


def test_empty_cells_are_missing_values(read_text):
    text = hourly(["-10,2", "-11,", "-12,4", ",5", "-14,6"], "time, air [C], wind [m/s]")
    table = read_text(text, hours=4)
    assert table.wind == pytest.approx([2, 3, 4, 6])
    assert table.seconds.tolist() == [0, 3600, 7200, 14400]


def test_a_column_without_any_value_counts_as_not_there(read_text):
    table = read_text(hourly(["-10,"] * 5, "time, air [C], wind [m/s]"))
    assert any("calm" in note for note in table.notes)


def test_values_every_three_hours_need_no_bridge_and_every_six_are_too_few(read_text):
    assert not any("gap" in note for note in read_text(hourly([1] * 4, step=3), hours=9).notes)
    with pytest.raises(WeatherError, match=r"no value from"):
        read_text(hourly([1] * 3, step=6), hours=9)


# Wrong files

BROKEN = {
    "empty": ("", "trip.csv: an empty file"),
    "header only": ("time, air [degC]\n", "a header and no rows"),
    "one row": (hourly([-10]), "data from 2026-01-16T16:00 to 2026-01-16T16:00"),
    "starts too late": (
        hourly([-10] * 9, first="2026-01-16T17:00"),
        "data from 2026-01-16T17:00 to 2026-01-17T01:00; the trip needs 2026-01-16T16:00",
    ),
    "ends too early": (hourly([-10] * 4), "to 2026-01-16T19:00; the trip needs 2026-01-16T16:00"),
    "no air": (hourly([-10] * 5, "time, wind [m/s]"), 'line 1: no column "air"'),
    "no time": ("air [C], wind [m/s]\n1,2\n", 'line 1: no column "time"'),
    "misspelled": (hourly(["1,2"] * 5, "time, air [C], wnd [m/s]"), 'did you mean "wind"?'),
    "unknown": (hourly(["1,2"] * 5, "time, air [C], xyzzy [m/s]"), 'unknown column "xyzzy [m/s]"'),
    "doubled": (hourly(["1,2"] * 5, "time, air [C], air [F]"), 'a second column "air"'),
    "no unit": (hourly([1] * 5, "time, air"), 'column "air": no unit in the header; write "air ['),
    "unknown unit": (hourly([1] * 5, "time, air [R]"), 'the unknown unit "R"'),
    "wrong unit": (hourly(["1,2"] * 5, "time, air [C], wind [degC]"), 'write "wind [m/s]"'),
    "word": (hourly([-10, "cold", 1, 1, 1]), 'line 3, air [degC]: "cold" is no number'),
    "nan": (hourly([-10, "NaN", 1, 1, 1]), 'line 3, air [degC]: "NaN" is no number'),
    "infinite": (hourly([-10, "inf", 1, 1, 1]), '"inf" is no number'),
    "too cold": (hourly([-10, -70.1, 1, 1, 1]), "allowed is -70 to 60 degC"),
    "too hot": (hourly([-10, 60.1, 1, 1, 1]), "allowed is -70 to 60 degC"),
    "humid": (hourly(["1,101"] * 5, "time, air [C], humidity [%]"), "allowed is 0 to 100 %"),
    "negative wind": (hourly(["1,-1"] * 5, "time, air [C], wind [m/s]"), "allowed is 0 to 90 m/s"),
    "no pressure": (hourly(["1,8"] * 5, "time, air [C], pressure [hPa]"), "400 to 1100 hPa"),
    "duplicate": (hourly([1, 2]) + "\n2026-01-16T17:00,3", "line 4, time: 2026-01-16T17:00:00 tw"),
    "backward": (hourly([1, 2]) + "\n2026-01-16T16:30,3", "after a later time; times must incr"),
    "no time of day": (hourly([1]) + "\nnoon,3", 'line 3, time: "noon" is no time'),
    "year 0": (hourly([1]) + "\n0001-01-01,3", "line 3, time: the year 1"),
    "mixed": (hourly([1]) + "\n2026-01-16T17:00Z,3", "line 3, time: a time with a UTC offset am"),
    "zone": (hourly([1] * 5, "time [Mars/Olympus], air [C]"), 'unknown time zone "Mars/Olympus"'),
    "semicolons": ("time; air [degC]\n2026-01-16T16:00; -3,5\n", "line 1: semicolons between"),
    "tabs": ("time\tair [degC]\n2026-01-16T16:00\t-3\n", "line 1: tabs between"),
    "decimal comma": (hourly(["-3,5"] * 5), "line 2: 3 cells; 2 as in the header; numbers take a"),
    "short row": (hourly([1]) + "\n2026-01-16T17:00", "line 3: 1 cell; 2 as in the header"),
    "open quote": (hourly([1]) + '\n"2026-01-16T17:00,3', "line 3: a broken row"),
    "latin-1": ("time, air [°C]\n".encode("latin-1"), "line 1: byte 0xb0, which is not UTF-8"),
    "utf-16": ("time, air [degC]\n1,2\n".encode("utf-16"), "which is not UTF-8 text"),
}


@pytest.mark.parametrize("case", BROKEN)
def test_a_broken_file_is_one_message_that_names_the_place(read_text, case):
    text, message = BROKEN[case]
    with pytest.raises(WeatherError) as caught:
        read_text(text)
    assert message in str(caught.value)
    assert "trip.csv" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_byte_order_mark_and_windows_lines_are_fine(read_text):
    text = hourly([-10, -11, -12, -13, -14]).replace("\n", "\r\n")
    assert read_text(b"\xef\xbb\xbf" + text.encode()).air.size == 5


def test_a_file_that_is_not_there_or_a_folder_is_an_error(read, tmp_path):
    for name in ("none.csv", "."):
        with pytest.raises(WeatherError, match="cannot be read"):
            read(Path(name), folder=tmp_path)


def test_an_ending_nobody_knows_is_an_error(read, tmp_path):
    (tmp_path / "weather.docx").write_text("x")
    with pytest.raises(WeatherError, match="ending in"):
        read(Path("weather.docx"), folder=tmp_path)
