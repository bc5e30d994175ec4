"""The time series as a file holds the same numbers in Parquet and in CSV."""

from pathlib import Path

import numpy as np
import pyarrow.csv
import pyarrow.parquet
import pytest
from invented import START, invented_series

from coldsoak.errors import InputError
from coldsoak.faces.series_file import series_path, write_series

NAMES = ("A", "B", "C")


@pytest.mark.parametrize("name", ["night.parquet", "night.csv", "NIGHT.CSV"])
def test_the_file_holds_the_series(tmp_path: Path, name: str) -> None:
    series = invented_series()
    path = series_path(str(tmp_path / name))
    write_series(path, series, NAMES, START)
    read = pyarrow.csv.read_csv if path.suffix.lower() == ".csv" else pyarrow.parquet.read_table
    table = read(path)
    assert table.num_rows == len(series.seconds)
    assert np.allclose(table["air_C"].to_numpy() + 273.15, series.air, atol=5.1e-5)
    # a column is written to four decimals
    assert np.allclose(table["B_gauge_kPa"].to_numpy(), 60.0, atol=1e-9)
    assert table["time"][6].as_py() == START.replace(hour=17)


@pytest.mark.parametrize("name", ["night.parquet", "night.csv"])
def test_a_temperature_that_does_not_exist_is_null(tmp_path: Path, name: str) -> None:
    series = invented_series()
    series.inside[:] = np.nan
    path = tmp_path / name
    write_series(path, series, NAMES, START)
    read = pyarrow.csv.read_csv if path.suffix == ".csv" else pyarrow.parquet.read_table
    assert read(path)["inside_C"].null_count == len(series.seconds)


@pytest.mark.parametrize("name", ["night.xlsx", "night", "folder/that/is/not/night.csv"])
def test_a_file_that_cannot_be_is_refused_before_anything_is_computed(name: str) -> None:
    with pytest.raises(InputError):
        series_path(name)


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    folder = tmp_path / "night.csv"
    folder.mkdir()
    with pytest.raises(InputError, match="folder"):
        series_path(str(folder))


def test_a_file_that_cannot_be_written_is_one_message(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be written"):
        write_series(tmp_path / "gone" / "night.csv", invented_series(), NAMES, START)
