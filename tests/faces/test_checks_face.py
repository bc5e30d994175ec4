"""The list of checks prints every comparison with its source, and says which one is off."""

import io
import json
from dataclasses import replace

import pytest
from rich.console import Console

from coldsoak.checks.check import Check
from coldsoak.faces import checks as face
from coldsoak.faces import paper
from coldsoak.faces.jsontext import json_text

GOOD = Check(
    "vapor pressure", "propane at 0 degF", "Invented 1999, table 1", 23.7, 23.5, "psi", 0.01,
    "the table is rounded to 0.5 psi.", "published",
)  # fmt: skip
BAD = Check(
    "vapor pressure", "butane at 0 degF", "Invented 1999, table 2", 9.0, 7.0, "psi", 0.01,
    "the table is rounded to 0.5 psi.", "published",
)  # fmt: skip
AT_ZERO = Check(
    "balance", "mass lost", "conservation of mass", 2e-9, 0.0, "kg", 1e-6,
    "rounding of sums.", "reference code",
)  # fmt: skip


def test_a_deviation_is_relative_unless_theirs_is_zero() -> None:
    assert GOOD.deviation == pytest.approx(0.2 / 23.5)
    assert AT_ZERO.deviation == 2e-9


def test_a_check_passes_within_its_tolerance_only() -> None:
    assert GOOD.passed
    assert AT_ZERO.passed
    assert not BAD.passed


def test_a_number_that_is_none_never_passes() -> None:
    missing = Check("a", "b", "c", float("nan"), 1.0, "K", 1e9, "none.", "from memory")
    assert not missing.passed


def test_the_printed_list_names_sources_reasons_and_what_is_off(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    console = Console(file=io.StringIO(), width=80, markup=False)
    monkeypatch.setattr(paper, "paper", lambda: console)
    face.print_checks([GOOD, BAD, AT_ZERO])
    text = " ".join(console.file.getvalue().split())  # type: ignore[attr-defined]
    assert text.count("Vapor pressure") == 1
    assert "ours 23.7 psi, theirs 23.5 psi: +0.851 %, within 1 %" in text
    assert "OUTSIDE 1 %" in text
    assert "+2e-09 kg, within 1e-06 kg" in text
    assert "Invented 1999, table 1 (published)" in text
    assert "2 of 3 tests are within their tolerance" in text


def test_what_only_informs_is_not_counted_as_passed() -> None:
    telling = replace(GOOD, informative=True)
    counts = face.checks_object([GOOD, telling])
    assert (counts["passed"], counts["of"], counts["informative"]) == (1, 1, 1)
    assert "informative" in face.check_lines(telling)[1]


def test_the_same_list_as_json() -> None:
    written = json.loads(json_text(face.checks_object([GOOD, BAD])))
    assert (written["passed"], written["of"]) == (1, 2)
    assert written["checks"][0]["source"] == "Invented 1999, table 1"
    assert written["checks"][1]["passed"] is False
