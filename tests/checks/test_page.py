"""docs/checks.md is what the list says, to the digits that it prints."""

import importlib.util
import re
from pathlib import Path

import pytest

from coldsoak.checks.check import Check
from coldsoak.checks.list import all_checks

ROOT = Path(__file__).parents[2]
NUMBER = re.compile(r"-?\d[\d,]*(?:\.\d+)?")


def writer():
    spec = importlib.util.spec_from_file_location("write_checks", ROOT / "tools/write_checks.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def last_digit(text: str) -> float:
    return 10.0 ** -len(text.partition(".")[2])


def test_the_page_is_current() -> None:
    kept = (ROOT / "docs/checks.md").read_text("utf-8")
    fresh = writer().page(all_checks())
    assert NUMBER.sub("#", kept) == NUMBER.sub("#", fresh), "run make docs"
    # another processor may round the last digit of a march another way
    for ours, theirs in zip(NUMBER.findall(fresh), NUMBER.findall(kept), strict=True):
        numbers = [float(text.replace(",", "")) for text in (ours, theirs)]
        assert numbers[0] == pytest.approx(numbers[1], rel=0, abs=1.01 * last_digit(theirs)), (
            f"{theirs} is {ours} now: run make docs"
        )


def test_a_number_is_printed_finer_than_its_tolerance() -> None:
    check = Check(
        "invented", "a number", "invented", 4.2284, 4.24, "kg", 0.006, "invented", "published"
    )
    assert "| 4.228 | 4.240 | kg | -0.27 % | 0.60 % |" in writer().row(check)


def test_a_comparison_outside_its_tolerance_is_said_to_be() -> None:
    check = Check("invented", "a", "b", 2.0, 1.0, "kg", 0.1, "why", "published")
    assert "**outside its tolerance**" in writer().row(check)
    assert "0 of 1 tests" in writer().page([check])
