"""Tables of published values: package data with a source and a status in every row."""

import csv
from decimal import Decimal
from functools import cache
from importlib.resources import files

Row = dict[str, str]


@cache
def rows(name: str) -> tuple[Row, ...]:
    """The rows of ``data/<name>.csv`` as printed texts; lines that begin with # are remarks.

    >>> rows("saturation")[0]["propane_pressure_kPa"]
    '89.05'
    """
    lines = (files("coldsoak.checks") / f"data/{name}.csv").read_text("utf-8").splitlines()
    return tuple(csv.DictReader(line for line in lines if not line.startswith("#")))


def half_digit(text: str) -> float:
    """Half of the last digit of a printed number: what rounding may have taken from it.

    >>> half_digit("24.5"), half_digit("127"), half_digit("-0.040")
    (0.05, 0.5, 0.0005)
    """
    exponent = Decimal(text).as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5 * 10.0**exponent
