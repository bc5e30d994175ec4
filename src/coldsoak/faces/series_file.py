"""The time series of a plan as a file: Parquet or CSV, by its ending.

The columns are in SI-derived units that their names carry, whatever units the screen shows.
"""

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coldsoak.errors import InputError
from coldsoak.faces import clock

if TYPE_CHECKING:
    from coldsoak.night.series import Series

ENDINGS = (".parquet", ".csv")
ZERO_CELSIUS = 273.15

DECIMALS = {"hours": 6, "C": 4, "s": 3, "W": 2, "kPa": 4, "kg": 6}
"""Decimals that are written, by the unit at the end of a column's name."""


def series_path(name: str) -> Path:
    """Check the ending and the folder of a series file before anything is computed.

    Raises
    ------
    InputError
        Another ending than .parquet or .csv, or no such folder.
    """
    path = Path(name)
    if path.suffix.lower() not in ENDINGS:
        raise InputError(
            f"found the ending {path.suffix or 'none'!r}", "it must be .parquet or .csv", file=name
        )
    if not path.parent.is_dir():
        raise InputError(f"there is no folder {path.parent}", "make it first", file=name)
    if path.is_dir():
        raise InputError("found a folder", "give the name of a file", file=name)
    return path


def series_columns(series: "Series", cylinders: tuple[str, ...], start: datetime) -> dict[str, Any]:
    """Name the columns of a series.

    Parameters
    ----------
    series : Series
        Time series of a plan.
    cylinders : tuple of str
        Names in the order of the series.
    start : datetime
        Start of the trip.

    Returns
    -------
    dict of str to sequence
        Hours, clock time, air, wind, inside, powers (gross), then four columns per cylinder.
    """
    columns: dict[str, Any] = {
        "hours": series.seconds / 3600.0,
        "time": [clock.at(start, second) for second in series.seconds],
        "air_C": series.air - ZERO_CELSIUS,
        "wind_m_s": series.wind,
        "inside_C": series.inside - ZERO_CELSIUS,
        "asked_W": series.asked,
        "vapor_can_W": series.vapor_can,
        "sensible_can_W": series.sensible_can,
        "wall_can_W": series.wall_can,
    }
    for c, name in enumerate(cylinders):
        columns[f"{name}_liquid_C"] = series.liquid[:, c] - ZERO_CELSIUS
        columns[f"{name}_gauge_kPa"] = series.gauge[:, c] / 1000.0
        columns[f"{name}_left_kg"] = series.left[:, c]
        columns[f"{name}_open"] = series.open_cylinder[:, c]
    return columns


def rounded(name: str, values: Any) -> Any:
    """Round the numbers of a column by its unit; times and switches stay."""
    decimals = DECIMALS.get(name.rsplit("_", 1)[-1])
    return values if decimals is None else values.round(decimals) + 0.0


def write_series(path: Path, series: "Series", cylinders: tuple[str, ...], start: datetime) -> None:
    """Write the series; what does not exist (inside without a shelter) is null or empty.

    Raises
    ------
    InputError
        The file cannot be written there.
    """
    import pyarrow as pa
    from pyarrow import csv, parquet

    columns = series_columns(series, cylinders, start)
    table = pa.table(
        {
            name: pa.array(rounded(name, values), from_pandas=True)
            for name, values in columns.items()
        }
    )
    write = parquet.write_table if path.suffix.lower() == ".parquet" else csv.write_csv
    try:
        write(table, path)
    except OSError as error:
        raise InputError(
            f"the series cannot be written: {error.strerror or error}",
            "give a file in a folder that you may write to",
            file=str(path),
        ) from error
