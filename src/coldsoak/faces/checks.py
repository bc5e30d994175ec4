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
    checks = tuple(checks)
    tests = [check for check in checks if not check.informative]
    return {
        "schema": "coldsoak.checks/1",
        "passed": sum(check.passed for check in tests),
        "of": len(tests),
        "informative": len(checks) - len(tests),
        "checks": [
            {**asdict(check), "deviation": check.deviation, "passed": check.passed}
            for check in checks
        ],
    }


def state_of(check: "Check") -> str:
    """How a check stands, in words."""
    if check.informative:
        return "informative, expected within"
    return "within" if check.passed else "OUTSIDE"


def check_lines(check: "Check") -> list[str]:
    """Give one check as lines of text: the numbers, then the source and the tolerance's reason."""
    relative = check.theirs != 0
    scale, unit = (100.0, "%") if relative else (1.0, check.unit)
    return [
        f"  {check.what}",
        f"    ours {check.ours:.4g} {check.unit}, theirs {check.theirs:.4g} {check.unit}: "
        f"{check.deviation * scale:+.3g} {unit}, "
        f"{state_of(check)} {check.tolerance * scale:.3g} {unit}",
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
    counts = checks_object(checks)
    console.print(
        f"{counts['passed']} of {counts['of']} tests are within their tolerance; "
        f"{counts['informative']} more comparisons inform and prove nothing."
    )


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
