"""EnergyPlus weather, from an invented file and from one that pvlib's reader also reads."""

import csv
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest

from coldsoak.errors import WeatherError
from coldsoak.physics.sky import sky_temperature_of_infrared

DATA = Path(__file__).parent / "data"
RIDGE = Path("invented_ridge.epw")
ROWS = list(csv.reader((DATA / RIDGE).open(newline="")))[8:]


def column(at, month, day):
    """The 24 values of one day, by the field's number in the format."""
    return np.array([float(r[at]) for r in ROWS if (int(r[1]), int(r[2])) == (month, day)])


def test_hour_n_is_the_reading_at_n_oclock(read):
    table = read(RIDGE, start=datetime(2026, 1, 1, 1), hours=23)
    assert table.seconds == pytest.approx(np.arange(24) * 3600.0)
    assert table.air - 273.15 == pytest.approx(column(6, 1, 1), abs=1e-9)
    assert table.station_pressure == pytest.approx(column(9, 1, 1))


def test_means_over_hours_count_half_before_and_half_after_the_full_hour(read):
    table = read(RIDGE, start=datetime(2026, 1, 1, 1), hours=22)
    for ours, at in ((table.global_, 13), (table.diffuse, 15)):
        day = column(at, 1, 1)
        assert ours == pytest.approx(0.5 * (day[:-1] + day[1:]))
    infrared = column(12, 1, 1)
    known = sky_temperature_of_infrared(0.5 * (infrared[:-1] + infrared[1:]))
    assert table.sky == pytest.approx(known)


def test_missing_wind_is_bridged_and_said(read):
    table = read(RIDGE, start=datetime(2026, 1, 1, 1), hours=10)
    assert table.wind[3:7] == pytest.approx(np.linspace(2.8, table.wind[6], 4))
    assert any("wind: 1 gap of up to 3.0 h" in note for note in table.notes)


def test_a_trip_over_new_year_runs_on_in_january(read):
    table = read(RIDGE, start=datetime(2026, 12, 31, 22), hours=4)
    known = [*column(6, 12, 31)[21:], *column(6, 1, 1)[:2]]
    assert table.air - 273.15 == pytest.approx(known, abs=1e-9)


def test_february_of_a_leap_year_ends_at_the_first_of_march(read):
    """The file's February is of 2004; midnight after the 28th is 0 h of 1 March."""
    table = read(RIDGE, start=datetime(2026, 2, 28, 22), hours=4)
    known = [*column(6, 2, 28)[21:], *column(6, 3, 1)[:2]]
    assert table.air - 273.15 == pytest.approx(known, abs=1e-9)


def test_days_the_file_lacks_are_refused(read):
    with pytest.raises(WeatherError, match=r"invented_ridge.epw: .*the trip needs 2026-06-01"):
        read(RIDGE, start=datetime(2026, 6, 1), hours=4)


def harmed(at, old, new):
    lines = (DATA / RIDGE).read_text().splitlines()
    assert old in lines[at]
    lines[at] = lines[at].replace(old, new, 1)
    return "\n".join(lines)


DAMAGE = {
    "location": (harmed(0, "LOCATION", "PLACE"), "line 1: "),
    "latitude": (harmed(0, "46.90", "146.90"), 'line 1, latitude: "146.90"'),
    "zone": (harmed(0, "-7.0", "west"), 'line 1, time zone: "west"'),
    "hour": (harmed(20, ",13,0,", ",25,0,"), "line 21: month 1, day 1, hour 25"),
    "date": (harmed(20, "2003,1,1", "2003,2,30"), "line 21: month 2, day 30"),
    "cut row": (
        harmed(20, ROWS[12][16] + "," + ",".join(ROWS[12][17:]), "0"),
        "line 21: a row with 17",
    ),
    "word": (harmed(20, ",85", ",high85"), 'line 21, atmospheric_pressure: "high85'),
    "cold": (harmed(8, "-23.2,", "-93.2,"), "line 9, temp_air: -93.2; allowed is -70"),
    "header only": ("\n".join((DATA / RIDGE).read_text().splitlines()[:8]), "line 8: 8 lines"),
}


@pytest.mark.parametrize("case", DAMAGE)
def test_a_damaged_file_is_one_message_that_names_the_line(read, tmp_path, case):
    text, message = DAMAGE[case]
    (tmp_path / "trip.epw").write_text(text)
    with pytest.raises(WeatherError) as caught:
        read(Path("trip.epw"), start=datetime(2026, 1, 1, 1), folder=tmp_path)
    assert f"trip.epw, {message}" in str(caught.value)
