"""``coldsoak checks``: every comparison with the outside world, from the list the tests run."""

from collections.abc import Iterable
from dataclasses import asdict
from itertools import groupby
from typing import TYPE_CHECKING, Any

import click

from coldsoak.faces import options
from coldsoak.faces.jsontext import json_text

if TYPE_CHECKING:
    from coldsoak.checks.check import Check


def checks_object(checks: Iterable["Check"]) -> dict[str, Any]:
    """Give the checks as one object: how many passed, and every comparison in full."""
    rows = [
        {**asdict(check), "deviation": check.deviation, "passed": check.passed} for check in checks
    ]
    return {
        "schema": "coldsoak.checks/1",
        "passed": sum(row["passed"] for row in rows),
        "of": len(rows),
        "checks": rows,
    }


def check_lines(check: "Check") -> list[str]:
    """Give one check as lines of text: the numbers, then the source and the tolerance's reason."""
    relative = check.theirs != 0
    scale, unit = (100.0, "%") if relative else (1.0, check.unit)
    state = "within" if check.passed else "OUTSIDE"
    return [
        f"  {check.what}",
        f"    ours {check.ours:.4g} {check.unit}, theirs {check.theirs:.4g} {check.unit}: "
        f"{check.deviation * scale:+.2g} {unit}, {state} {check.tolerance * scale:.2g} {unit}",
        f"    {check.source} ({check.status})",
        f"    {check.why}",
    ]


def print_checks(checks: Iterable["Check"]) -> None:
    """Print the checks grouped by subject, and how many passed."""
    from rich.console import Console
    from rich.padding import Padding

    from coldsoak.faces.paper import paper

    console: Console = paper()
    checks = tuple(checks)
    for subject, group in groupby(checks, key=lambda check: check.subject):
        console.print(subject[:1].upper() + subject[1:], style="bold", markup=False)
        for check in group:
            for line in check_lines(check):
                indent = len(line) - len(line.lstrip())
                console.print(Padding(line.lstrip(), (0, 0, 0, indent)), markup=False)
    passed = sum(check.passed for check in checks)
    console.print(f"{passed} of {len(checks)} comparisons are within their tolerance.")


@click.command("checks")
@options.as_json
def command(as_json: bool) -> None:
    """Every comparison with the outside world, with its source and deviation.

    Numbers are shown in the unit of their source. A deviation outside its tolerance is
    still a result: the command ends with 0 and says so.
    """
    from coldsoak.checks.list import all_checks
    from coldsoak.faces.progress import waiting

    with waiting("comparing with the outside world"):
        checks = all_checks()
    if as_json:
        click.echo(json_text(checks_object(checks)))
    else:
        print_checks(checks)
