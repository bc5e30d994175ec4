"""The outside film against worked examples of textbooks."""

from coldsoak.checks.check import Check
from coldsoak.checks.printed import printed
from coldsoak.checks.table import Row, rows
from coldsoak.checks.units import ATMOSPHERE
from coldsoak.physics.convection import crossflow_nusselt, horizontal_nusselt, upright_nusselt
from coldsoak.physics.film import free_horizontal, free_upright

SUBJECT = "convection"

NUSSELT = {
    "upright Nusselt": upright_nusselt,
    "horizontal Nusselt": horizontal_nusselt,
    "crossflow Nusselt": crossflow_nusselt,
}
"""Laws of a flow number (Rayleigh or Reynolds) and the Prandtl number."""

FILM = {"free upright": free_upright, "free horizontal": free_horizontal}
"""Laws of a temperature difference [K], mean [K], length [m] and pressure [Pa]."""


def ours(row: Row) -> float:
    """Our number for a row, by the law that its key names."""
    if row["key"] in NUSSELT:
        return NUSSELT[row["key"]](float(row["flow_number"]), float(row["prandtl"]))
    difference, mean, length = (float(row[name]) for name in ("difference_K", "mean_K", "length_m"))
    return FILM[row["key"]](difference, mean, length, ATMOSPHERE)[0]


def checks() -> tuple[Check, ...]:
    """Every row of the table."""
    return tuple(printed(SUBJECT, row, ours(row)) for row in rows("convection"))
