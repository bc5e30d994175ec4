"""From one row of a table and our number to the check: the tolerance is the row's own.

A row gives what is compared and ``theirs``, either a number ("4.24") or a range ("268 .. 277"). A
number may be missed by half of its last printed digit, a range by half of its width. ``allowance``
is what may be missed beyond that, relative to theirs, and ``why`` is its reason. A row may be
``informative``.
"""

from typing import cast

from coldsoak.checks.check import Check, Status
from coldsoak.checks.table import Row, half_digit


def middle(text: str) -> tuple[float, float]:
    """The number of a printed text and how far it may be missed, in its own unit.

    >>> middle("4.24"), middle("268 .. 277")
    ((4.24, 0.005), (272.5, 4.5))
    """
    if ".." not in text:
        return float(text), half_digit(text)
    low, high = (float(end) for end in text.split(".."))
    return 0.5 * (low + high), 0.5 * (high - low)


def status(row: Row) -> Status:
    """What kind of number the row holds."""
    return cast(Status, row["status"])


def printed(subject: str, row: Row, ours: float) -> Check:
    """The check of our number against a row with what, theirs, unit, allowance, why and source."""
    theirs, miss = middle(row["theirs"])
    allowance = float(row["allowance"] or 0.0)
    ground = grounds(row["theirs"], row["unit"])
    return Check(
        subject=subject,
        what=row["what"],
        source=row["source"],
        ours=ours,
        theirs=theirs,
        unit=row["unit"],
        tolerance=miss / abs(theirs) + allowance,
        why=f"{ground}; {row['why']}" if row["why"] else ground,
        status=status(row),
        informative=row.get("informative") == "yes",
    )


def grounds(theirs: str, unit: str) -> str:
    """What a printed text itself allows, in words.

    >>> grounds("268 .. 277", "kg"), grounds("4.24", "kg")
    ('half of their range, 268 to 277 kg', 'half of the last printed digit')
    """
    if ".." not in theirs:
        return "half of the last printed digit"
    low, high = (end.strip() for end in theirs.split(".."))
    return f"half of their range, {low} to {high} {unit}".removesuffix(" -")


def strain(check: Check) -> float:
    """How much of its tolerance a check takes up; 1 is the limit."""
    return abs(check.deviation) / check.tolerance
