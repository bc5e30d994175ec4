"""The two typical years in pvlib's package, against their own cells read with the csv module."""

import csv
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pvlib
import pytest

from coldsoak.errors import WeatherError
from coldsoak.physics.sky import station_pressure
from coldsoak.weather.humidity import vapor_at_dew_point

YEARS = Path(pvlib.__file__).parent / "data"
FILES = ["703165TY.csv", "723170TYA.CSV"]  # Sand Point, Alaska, and Greensboro, N.C.
UNKNOWN = SimpleNamespace(elevation=None, latitude=55.317, longitude=-160.517)


def cells(name, column):
    """One column of a file, row by row."""
    with (YEARS / name).open(newline="") as file:
        rows = list(csv.reader(file))
    at = rows[1].index(column)
    return np.array([float(row[at]) for row in rows[2:]])


def ends(name):
    """Month, day and hour (1 to 24) of every row."""
    with (YEARS / name).open(newline="") as file:
        rows = list(csv.reader(file))[2:]
    return [(int(r[0][:2]), int(r[0][3:5]), int(r[1][:2])) for r in rows]


def coldest(name):
    """Row at which the coldest 72 hours start, and the trip's start in a year of its own."""
    air = cells(name, "Dry-bulb (C)")
    row = int(np.argmin(np.convolve(air, np.ones(73), "valid")))
    month, day, hour = ends(name)[row]
    return row, datetime(2027, month, day) + timedelta(hours=hour)


@pytest.mark.parametrize("name", FILES)
def test_the_coldest_72_hours_stand_in_the_table_as_in_the_file(read, name):
    """Exact: values at full hours are the file's own."""
    row, start = coldest(name)
    table = read(Path(name), start=start, hours=72, folder=YEARS, place=UNKNOWN)
    span = slice(row, row + 73)
    assert table.seconds == pytest.approx(np.arange(73) * 3600.0)
    assert table.air - 273.15 == pytest.approx(cells(name, "Dry-bulb (C)")[span], abs=1e-9)
    assert table.wind == pytest.approx(cells(name, "Wspd (m/s)")[span])
    assert table.station_pressure == pytest.approx(cells(name, "Pressure (mbar)")[span] * 100.0)
    dew = vapor_at_dew_point(cells(name, "Dew-point (C)")[span] + 273.15)
    assert (table.vapor_pressure <= dew + 1e-9).all()  # less where that exceeds ice


@pytest.mark.parametrize("name", FILES)
def test_the_coldest_72_hours_are_cold(name):
    """A guard on the test itself: Greensboro's are well below freezing, Sand Point's too."""
    row, _ = coldest(name)
    assert cells(name, "Dry-bulb (C)")[row : row + 73].mean() < -5.0


@pytest.mark.parametrize("name", FILES)
def test_the_suns_sum_over_three_days_is_the_files(read, name):
    """Means over hours become values at full hours, and level light keeps its sum (1e-9).

    The beam loses no more than half of the hours in which the sun rises or sets: at a full
    hour with the sun below the horizon there is none.
    """
    row, start = coldest(name)
    table = read(Path(name), start=start, hours=72, folder=YEARS, place=station(name))
    mean = slice(row + 1, row + 73)
    for ours, column in ((table.global_, "GHI (W/m^2)"), (table.diffuse, "DHI (W/m^2)")):
        got = np.trapezoid(ours, table.seconds) / 3600.0
        edges = cells(name, column)[[row, row + 73]] - cells(name, column)[[row + 1, row + 72]]
        assert got == pytest.approx(cells(name, column)[mean].sum() + edges.sum() / 4.0, rel=1e-9)
    beam = np.trapezoid(table.beam, table.seconds) / 3600.0
    dni, up = cells(name, "DNI (W/m^2)")[mean], table.sun_elevation > 0.0
    assert dni.sum() - 0.5 * dni[up[:-1] != up[1:]].sum() <= beam + 1e-6
    assert beam <= dni.sum() + 1e-6


def station(name):
    """The place that a file describes."""
    with (YEARS / name).open(newline="") as file:
        head = next(csv.reader(file))
    return SimpleNamespace(
        elevation=float(head[6]), latitude=float(head[4]), longitude=float(head[5])
    )


@pytest.mark.parametrize("name", FILES)
def test_the_sun_is_up_when_the_file_has_light(read, name):
    """Global light above 50 W/m2 at a full hour means the sun is up, by the file's own clock.

    It is dark at a full hour when the sun is an hour's turn, 15 degrees, below the horizon.
    """
    table = read(
        Path(name), start=datetime(2027, 3, 1), hours=240, folder=YEARS, place=station(name)
    )
    assert (table.sun_elevation[table.global_ > 50.0] > 0.0).all()
    assert (table.global_[table.sun_elevation < np.radians(-15.0)] == 0.0).all()


def test_a_trip_over_new_year_runs_on_in_january(read):
    name = FILES[1]
    table = read(Path(name), start=datetime(2026, 12, 31, 20), hours=8, folder=YEARS, place=UNKNOWN)
    air = cells(name, "Dry-bulb (C)")
    assert table.air - 273.15 == pytest.approx(np.concatenate((air[-5:], air[:4])), abs=1e-9)


def test_29_february_repeats_the_28th_and_the_note_says_so(read):
    name = FILES[0]
    table = read(Path(name), start=datetime(2028, 2, 29), hours=24, folder=YEARS, place=UNKNOWN)
    air, rows = cells(name, "Dry-bulb (C)"), ends(name)
    first = rows.index((2, 28, 1))
    assert table.air[1:24] - 273.15 == pytest.approx(air[first : first + 23], abs=1e-9)
    assert table.air[24] - 273.15 == pytest.approx(air[rows.index((2, 28, 24))], abs=1e-9)
    assert any("29 February" in note for note in table.notes)


def test_a_start_with_an_offset_is_turned_to_the_files_standard_time(read):
    name = FILES[1]  # UTC-5
    naive = read(Path(name), start=datetime(2026, 1, 16, 7), hours=3, folder=YEARS, place=UNKNOWN)
    utc = datetime(2026, 1, 16, 12, tzinfo=UTC)
    aware = read(Path(name), start=utc, hours=3, folder=YEARS, place=UNKNOWN)
    assert aware.air == pytest.approx(naive.air)
    assert aware.sun_elevation == pytest.approx(naive.sun_elevation)


def test_pressure_is_carried_to_the_trips_elevation_and_the_note_warns_of_the_air(read):
    name = FILES[1]  # 273 m
    place = SimpleNamespace(elevation=1500.0, latitude=36.1, longitude=-79.95)
    low = read(Path(name), hours=2, folder=YEARS, place=station(name))
    high = read(Path(name), hours=2, folder=YEARS, place=place)
    ratio = float(station_pressure(1500.0) / station_pressure(273.0))
    assert high.station_pressure == pytest.approx(low.station_pressure * ratio)
    assert any("273 m" in note and "1500 m" in note for note in high.notes)
    assert not any("273 m" in note for note in low.notes)


def rows_of(name):
    return (YEARS / name).read_text().splitlines()


DAMAGE = {
    "date": (1000, lambda row: "13/45/1997" + row[10:], "line 1001: "),
    "time": (1000, lambda row: row.replace(":00", ":xx", 1), "line 1001: "),
    "fields": (1000, lambda row: row + ",0", "line 1001: "),
    "air": (
        1000,
        lambda row: ",".join([*row.split(",")[:31], "cold", *row.split(",")[32:]]),
        'line 1001, temp_air: "cold" is no number',
    ),
    "belief": (
        1000,
        lambda row: ",".join([*row.split(",")[:31], "-99", *row.split(",")[32:]]),
        "line 1001, temp_air: -99; allowed is -70",
    ),
    "zone": (0, lambda row: row.replace("-9.0", "-29"), 'line 1, time zone: "-29"'),
    "head": (1, lambda row: row.replace("Dry-bulb (C)", "Dry"), 'line 2: no column "Dry-bulb (C)"'),
    "twice": (1000, lambda row: row + "\n" + row, "line 1002: a second row for"),
}


@pytest.mark.parametrize("case", DAMAGE)
def test_a_damaged_typical_year_is_one_message_that_names_the_line(read, tmp_path, case):
    at, harm, message = DAMAGE[case]
    rows = rows_of(FILES[0])
    assert rows[0].startswith("703165")
    rows[at] = harm(rows[at])
    (tmp_path / "year.csv").write_text("\n".join(rows))
    with pytest.raises(WeatherError) as caught:
        read(Path("year.csv"), folder=tmp_path)
    assert f"year.csv, {message}" in str(caught.value)


def test_missing_values_are_bridged_and_missing_days_refused(read, tmp_path):
    rows = rows_of(FILES[1])
    at = next(n for n, row in enumerate(rows) if row.startswith("01/16/") and ",18:00," in row)
    rows[at] = ",".join([*rows[at].split(",")[:31], "-9900", *rows[at].split(",")[32:]])
    (tmp_path / "year.csv").write_text("\n".join(rows))
    table = read(Path("year.csv"), folder=tmp_path)
    assert any("air: 1 gap" in note for note in table.notes)
    (tmp_path / "year.csv").write_text("\n".join([*rows[: at - 10], *rows[at + 40 :]]))
    with pytest.raises(WeatherError, match="the trip needs"):
        read(Path("year.csv"), folder=tmp_path)
