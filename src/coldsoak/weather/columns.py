"""The columns that a weather CSV may have: names, units and believable ranges."""

import difflib
import re
from collections.abc import Mapping
from typing import NamedTuple

from coldsoak.errors import WeatherError
from coldsoak.rig.units import STANDARD_SPELLING, Scale, dimensions, scale, shown

HEADING = re.compile(r"\s*(?P<name>[^\[\]()]*?)\s*(?:[\[(]\s*(?P<unit>[^\[\]]*?)\s*[\])])?\s*")


class Quantity(NamedTuple):
    """One kind of column.

    dimension : its name in the unit tables of the trip file, or "" if it has units of its own
    units : units of its own, besides those of the dimension
    low, high : believable range, in the SI unit
    range : the same for people
    example : how its heading is written
    """

    dimension: str
    units: Mapping[str, Scale]
    low: float
    high: float
    range: str
    example: str


def _factors(**factors: float) -> dict[str, Scale]:
    return {name: Scale(factor, 0.0) for name, factor in factors.items()}


PRESSURE = _factors(Pa=1.0, hPa=100.0, mbar=100.0, kPa=1000.0, inHg=3386.389)
"""NIST SP 811 (2008), appendix B.8; inch of mercury conventional."""

SUN = {name: Scale(1.0, 0.0) for name in ("W/m2", "W/m^2")}
CLOUD = _factors(tenths=0.1, oktas=0.125, okta=0.125, eighths=0.125)
SUN_RANGE = "0 to 1600 W/m2 (down to -20 counts as 0: the zero of the instrument)"

QUANTITIES = {
    "air": Quantity(
        "temperature", {}, 203.15, 333.15, "-70 to 60 degC (-94 to 140 degF)", "air [degC]"
    ),
    "wind": Quantity("speed", {}, 0.0, 90.0, "0 to 90 m/s", "wind [m/s]"),
    "humidity": Quantity("share", {}, 0.0, 1.0, "0 to 100 %", "humidity [%]"),
    "dew point": Quantity("temperature", {}, 173.15, 313.15, "-100 to 40 degC", "dew point [degC]"),
    "cloud": Quantity("share", CLOUD, 0.0, 1.0, "0 to 100 %", "cloud [%]"),
    "global": Quantity("", SUN, -20.0, 1600.0, SUN_RANGE, "global [W/m2]"),
    "beam": Quantity("", SUN, -20.0, 1600.0, SUN_RANGE, "beam [W/m2]"),
    "diffuse": Quantity("", SUN, -20.0, 1600.0, SUN_RANGE, "diffuse [W/m2]"),
    "infrared": Quantity("", SUN, 50.0, 700.0, "50 to 700 W/m2", "infrared [W/m2]"),
    "pressure": Quantity(
        "", PRESSURE, 4e4, 1.1e5, "400 to 1100 hPa at the station", "pressure [hPa]"
    ),
}

OTHER_NAMES = {
    "temperature": "air",
    "air temperature": "air",
    "wind speed": "wind",
    "relative humidity": "humidity",
    "dewpoint": "dew point",
    "clouds": "cloud",
    "cloud cover": "cloud",
    "station pressure": "pressure",
    "air pressure": "pressure",
}
"""Names that are as clear as ours."""


class Column(NamedTuple):
    """One column of a file: where it stands, what it holds, its heading and its unit."""

    at: int
    name: str
    heading: str
    quantity: Quantity
    scale: Scale


class Heading(NamedTuple):
    """The name and the unit in one cell of the header; unit None if there is none."""

    name: str
    unit: str | None


def split_heading(cell: str) -> Heading:
    """Name and unit of one header cell, spelled our way.

    >>> split_heading("Wind_speed (km/h)")
    Heading(name='wind', unit='km/h')
    """
    match = HEADING.fullmatch(cell)
    if match is None:
        return Heading(cell.strip().lower(), None)
    name = " ".join(match["name"].lower().replace("_", " ").split())
    unit = match["unit"]
    return Heading(OTHER_NAMES.get(name, name), unit.translate(STANDARD_SPELLING) if unit else None)


def read_columns(cells: list[str], file: str, line: int) -> tuple[int, str | None, list[Column]]:
    """Index of the time column, its time zone if the header names one, and all other columns.

    Raises WeatherError for an unknown, doubled or missing column, or a missing or unknown unit.
    """
    headings = [split_heading(cell) for cell in cells]
    for index, heading in enumerate(headings):
        if heading.name not in QUANTITIES and heading.name != "time":
            raise _unknown(cells[index], index, file, line)
        if heading.name in [other.name for other in headings[:index]]:
            raise WeatherError(
                f'a second column "{heading.name}"', "one of each", file=file, line=line
            )
    for name in ("time", "air"):
        if name not in [heading.name for heading in headings]:
            raise _missing(name, cells, file, line)
    at = [heading.name for heading in headings].index("time")
    columns = [
        _column(index, cells[index], heading, file, line)
        for index, heading in enumerate(headings)
        if index != at
    ]
    return at, headings[at].unit, columns


def _column(at: int, cell: str, heading: Heading, file: str, line: int) -> Column:
    """One column with the worth of its unit."""
    quantity = QUANTITIES[heading.name]
    spellings = dimensions()[quantity.dimension].spellings if quantity.dimension else {}
    unit = heading.unit or ""
    if unit in quantity.units:
        return Column(at, heading.name, cell.strip(), quantity, quantity.units[unit])
    if unit in spellings:
        return Column(at, heading.name, cell.strip(), quantity, scale(unit, quantity.dimension))
    found = f"the unknown unit {shown(unit)}" if unit else "no unit in the header"
    units = ", ".join([*spellings, *quantity.units])
    allowed = f'write "{quantity.example}" (units: {units})'
    raise WeatherError(found, allowed, file=file, line=line, key=f"column {shown(cell.strip())}")


def _unknown(cell: str, index: int, file: str, line: int) -> WeatherError:
    """The message for a column that is none of ours, with the nearest known name."""
    known = ["time", *QUANTITIES, *OTHER_NAMES]
    near = difflib.get_close_matches(split_heading(cell).name, known, n=1, cutoff=0.5)
    guess = f'did you mean "{OTHER_NAMES.get(near[0], near[0])}"? ' if near else ""
    allowed = f"{guess}known columns: time, {', '.join(QUANTITIES)}; take others out"
    found = f"the unknown column {shown(cell.strip())}"
    return WeatherError(found, allowed, file=file, line=line, key=f"column {index + 1}")


def _missing(name: str, cells: list[str], file: str, line: int) -> WeatherError:
    """The message for a file without times or without air temperature."""
    example = "time" if name == "time" else QUANTITIES[name].example
    allowed = f'the header names the columns, such as "time, air [degC], wind [m/s]"; add {example}'
    found = f'no column "{name}" among {shown(", ".join(cell.strip() for cell in cells))}'
    return WeatherError(found, allowed, file=file, line=line)
