"""German off-take rates of cylinders: at which air temperature our march can give them.

The table states neither air temperature nor pressure nor filling. Taken here: 0.7 bar at the
regulator and a cylinder that is emptied to 30 %, as an Austrian textbook of the trade states for a
like table. The burst is taken from a cylinder that is 30 % full.
"""

from typing import NamedTuple

from coldsoak.checks.check import Check
from coldsoak.checks.fuels import PROPANE
from coldsoak.checks.lone import STEADILY, Demand, Lone, holds
from coldsoak.checks.printed import status
from coldsoak.checks.table import Row, rows
from coldsoak.checks.units import FREEZING
from coldsoak.physics.combustion import gross_heating_value

SUBJECT = "off-take of cylinders"

PRESSURE = 0.7e5
"""Least gauge pressure [Pa]."""

LEFT = 0.3
"""Share of the fill that is left when the rate may end."""

HALF_AN_HOUR = ", ".join(f'{{ from = "{h:02d}:00", to = "{h:02d}:30" }}' for h in range(24))
TWENTY_MINUTES = '{ from = "18:00", to = "18:20" }'

WINTER = 20.0
"""Air of a central European winter in which a planning rate must hold: 0 degC, this much colder or
warmer [K] (common practice, no source)."""


class Use(NamedTuple):
    """A way to take gas: in words, as ``use`` of the trip file, share of the time, and whether the
    cylinder is emptied from full to LEFT, else it starts there."""

    words: str
    text: str
    share: float
    empties: bool


USES = {
    "uninterrupted": Use("without pause", STEADILY, 1.0, True),
    "half": Use("half an hour in the hour", f"[{HALF_AN_HOUR}]", 0.5, True),
    "burst": Use("for 20 minutes", f"[{TWENTY_MINUTES}]", 1.0, False),
}


def can(row: Row, celsius: float) -> bool:
    """Whether the march gives a row's rate in air of a temperature [degC]."""
    use, fill, rate = USES[row["use"]], float(row["fill_kg"]), float(row["rate_kg_per_h"])
    contents = fill if use.empties else LEFT * fill
    hours = (1.0 - LEFT) * fill / (rate * use.share) if use.empties else 1.0
    heat = rate / 3600.0 * float(gross_heating_value(PROPANE))
    lone = Lone(f"{fill:g} kg", contents, celsius + FREEZING)
    return holds(lone, Demand(heat, use.text, hours, PRESSURE))


def coldest(row: Row) -> float:
    """Coldest air [degC] in which the march gives a row's rate, to 0.1 K."""
    low, high = -40.0, 40.0
    while high - low > 0.1:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if can(row, middle) else (middle, high)
    return round(high, 1)


def check_row(row: Row) -> Check:
    """The air temperature of a row against that of a winter."""
    use = USES[row["use"]]
    return Check(
        subject=SUBJECT,
        what=f"{row['fill_kg']} kg cylinder, {row['rate_kg_per_h']} kg/h {use.words}: coldest air "
        "in which ours gives it",
        source=row["source"],
        ours=coldest(row),
        theirs=0.0,
        unit="degC",
        tolerance=WINTER,
        why="no air temperature is stated, so that of any winter; half of the last "
        "printed digit alone moves ours by up to 6 K",
        status=status(row),
        informative=True,
    )


def checks() -> tuple[Check, ...]:
    """Every row of the table."""
    return tuple(check_row(row) for row in rows("offtake"))
