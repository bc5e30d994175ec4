"""Write docs/checks.md: every comparison with the outside world, from the list the tests run.

    python tools/write_checks.py

A test holds the page to the list, to the digits that it prints.
"""

from collections.abc import Iterable
from itertools import groupby
from math import ceil, log10
from pathlib import Path

from coldsoak.checks.check import Check
from coldsoak.checks.list import all_checks

PAGE = Path(__file__).parent.parent / "docs/checks.md"

INTRODUCTION = """\
# Comparisons with the outside world

Written by `tools/write_checks.py` from the list that `coldsoak checks` prints and the tests run; do
not edit. "Ours" is computed, "theirs" is taken from the source. A tolerance is the rounding of the
printed number, or the last column says why it is wider.

Where "informative" stands, the comparison tells something but proves nothing: the source leaves
open what ours depends on, and being within the tolerance is no test passed. "From memory" says
that a number is remembered from the named source and was not read again; it is never the only
ground of a pass.
"""

HEAD = """\
| | ours | theirs | unit | deviation | tolerance | source | why |
|---|---:|---:|---|---:|---:|---|---|
"""


def decimals(step: float) -> int:
    """Decimals that a number needs to be read in steps of a size, none for a step of 1 or more.

    >>> decimals(0.027), decimals(3.0)
    (2, 0)
    """
    return max(0, ceil(-log10(step)))


def row(check: Check) -> str:
    """One check as a row of the table.

    Ours and theirs are printed to less than a 25th of the tolerance, the tolerance in two digits,
    the deviation with as many decimals.
    """
    scale, unit = (100.0, "%") if check.theirs else (1.0, check.unit)
    allowed = scale * check.tolerance
    places = decimals(check.tolerance * (abs(check.theirs) or 1.0) / 25.0)
    fine = decimals(allowed / 10.0)
    why = f"informative: {check.why}" if check.informative else check.why
    cells = (
        check.what,
        f"{check.ours:,.{places}f}",
        f"{check.theirs:,.{places}f}",
        check.unit,
        f"{scale * check.deviation:+.{fine}f} {unit}",
        f"{allowed:.{fine}f} {unit}",
        f"{check.source} ({check.status})",
        why if check.passed else f"**outside its tolerance**; {why}",
    )
    return f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |\n"


def page(checks: Iterable[Check]) -> str:
    """The whole page."""
    checks = tuple(checks)
    tests = [check for check in checks if not check.informative]
    counted = (
        f"\n{sum(check.passed for check in tests)} of {len(tests)} tests are within their "
        f"tolerance; {len(checks) - len(tests)} more comparisons are informative.\n"
    )
    parts = [INTRODUCTION, counted]
    for subject, group in groupby(checks, key=lambda check: check.subject):
        parts += [f"\n## {subject[0].upper()}{subject[1:]}\n\n", HEAD, *(row(c) for c in group)]
    return "".join(parts)


if __name__ == "__main__":
    PAGE.write_text(page(all_checks()), "utf-8")
