"""Every comparison with the outside world holds, says why, and is the one that is printed."""

import csv
import json
import math
import os
import subprocess
import sys
from collections import defaultdict
from importlib.resources import files
from itertools import groupby
from typing import get_args

import pytest
from click.testing import CliRunner

from coldsoak.checks.check import Check, Status
from coldsoak.checks.list import SUBJECTS, all_checks
from coldsoak.faces import checks as face

STATUSES = get_args(Status)
TABLES = [
    path
    for path in sorted((files("coldsoak.checks") / "data").iterdir(), key=lambda path: path.name)
    if path.name.endswith(".csv")
]


def named(check: Check) -> str:
    return f"{check.subject}: {check.what}"


def of(subject) -> list[Check]:
    """The subject's part of the list."""
    return [check for check in all_checks() if check.subject == subject.SUBJECT]


def short(subject) -> str:
    return subject.__name__.rpartition(".")[2]


@pytest.mark.parametrize("subject", SUBJECTS, ids=short)
def test_every_comparison_is_within_its_tolerance(subject) -> None:
    outside = [
        f"{check.what}: {check.ours} against {check.theirs} {check.unit}, {check.deviation}"
        for check in of(subject)
        if not check.passed
    ]
    assert of(subject)
    assert not outside


@pytest.mark.parametrize("subject", SUBJECTS, ids=short)
def test_every_comparison_names_its_source_and_the_reason_of_its_tolerance(subject) -> None:
    for check in of(subject):
        assert math.isfinite(check.ours), named(check)
        assert math.isfinite(check.tolerance), named(check)
        assert check.tolerance > 0.0, named(check)
        assert check.source.strip(), named(check)
        assert check.why.strip(), named(check)
        assert check.status in STATUSES, named(check)


def test_a_tolerance_of_a_tenth_or_more_is_informative_or_a_range() -> None:
    # Rounding alone may be a tenth of a number of one digit; nothing else here needs that much.
    for check in all_checks():
        wide = check.theirs != 0.0 and check.tolerance >= 0.1
        assert not wide or check.informative or "range" in check.why, named(check)


def test_no_subject_rests_on_memory_alone() -> None:
    statuses = defaultdict(set)
    for check in all_checks():
        if not check.informative:
            statuses[check.subject].add(check.status)
    for subject, found in statuses.items():
        assert found - {"from memory"}, subject


def test_no_comparison_stands_twice() -> None:
    keys = [(check.subject, check.what, check.source) for check in all_checks()]
    assert len(set(keys)) == len(keys)


def test_comparisons_of_one_subject_stand_together() -> None:
    subjects = [subject for subject, _ in groupby(check.subject for check in all_checks())]
    assert len(set(subjects)) == len(subjects) == len(SUBJECTS)


def test_the_command_prints_the_very_list_that_is_tested(monkeypatch: pytest.MonkeyPatch) -> None:
    printed = []
    monkeypatch.setattr(face, "print_checks", printed.append)
    assert CliRunner().invoke(face.command, []).exit_code == 0
    assert printed[0] is all_checks()


def test_the_json_holds_every_comparison() -> None:
    result = CliRunner().invoke(face.command, ["--json"])
    written = json.loads(result.stdout)
    assert written["of"] + written["informative"] == len(all_checks())
    assert [row["what"] for row in written["checks"]] == [check.what for check in all_checks()]


@pytest.mark.parametrize("table", TABLES, ids=[path.name for path in TABLES])
def test_every_row_of_a_table_has_a_status_and_no_loose_end(table) -> None:
    lines = table.read_text("utf-8").splitlines()
    for row in csv.DictReader(line for line in lines if not line.startswith("#")):
        assert None not in row, row  # a comma too many
        assert None not in row.values(), row
        assert row["status"] in STATUSES, row
        assert row.get("source", "in the remark") != "", row


def test_the_list_needs_no_reference_library() -> None:
    # numba imports scipy if it is there; nothing here may need it
    code = (
        "import sys\n"
        "for name in ('CoolProp', 'ht', 'fluids', 'psychrolib', 'scipy'):\n"
        "    sys.modules[name] = None\n"
        "from coldsoak.checks.list import all_checks\n"
        "assert all_checks()\n"
        "assert not {'pandas', 'pvlib'} & set(sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], env=os.environ, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
