"""What can be said of carbon monoxide: limits, alarms, and never a number for this trip.

How much of it a flame makes depends on dirt, draught, pans and wear, not on the fuel; no number is
computed here, so that none can reassure.
"""

import csv
from functools import cache
from importlib.resources import files

SAYS_NOTHING = (
    "Nothing here says anything about carbon monoxide: no opening, no carbon dioxide and no oxygen "
    "reading makes up for a tested alarm. Required vents are never closed, in no cold."
)
"""Said with every answer about air."""

IF_IT_SOUNDS = "Everyone out, count heads, call from outside, back in only when cleared."

Row = dict[str, str]


@cache
def table(name: str) -> tuple[Row, ...]:
    """Rows of ``data/<name>.csv``; lines that begin with # are remarks.

    >>> table("co_alarm_response")[0]["standard"]
    'UL 2034'
    """
    lines = (files("coldsoak.choose") / f"data/{name}.csv").read_text("utf-8").splitlines()
    return tuple(csv.DictReader(line for line in lines if not line.startswith("#")))


def number(text: str) -> float | None:
    """A number of a table, or None where its cell is empty."""
    return float(text) if text else None
