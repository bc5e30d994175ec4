"""The supply side: regulator, changeover, and the arrangement that is refused."""

import pytest

from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import Supply, Trip

from .example import GOOD, SMALLEST, refusal, trip_with

TWO = SMALLEST + SMALLEST[SMALLEST.index("[[cylinder]]") :]


def supplied(keys: str, text: str = TWO) -> Trip:
    """The trip with a supply table."""
    return parse_trip(f"{text}[supply]\n{keys}\n")


def test_a_two_stage_regulator_needs_five_psi() -> None:
    trip = supplied('regulator = "two-stage 11 inH2O"')
    # 34.5 kPa is 5 psi to three digits
    assert trip.supply.minimum_inlet == pytest.approx(5 * 6894.757, rel=1e-3)
    assert trip.supply.outlet == pytest.approx(11 * 249.082)


@pytest.mark.parametrize(
    "text", ["two stage 30 mbar", "single-stage 37mbar", "Two-Stage", "dual stage"]
)
def test_a_regulator_may_be_written_several_ways(text: str) -> None:
    assert isinstance(supplied(f'regulator = "{text}"').supply, Supply)


def test_cylinders_together_need_check_valves() -> None:
    error = refusal(
        '"one at a time"',
        '"together"',
        TWO + '[supply]\narrangement = "one at a time"\ncheck_valves = false\n',
    )
    assert error.key == "supply.check_valves"
    assert "distils" in str(error)
    assert "over-fill" in str(error)


def test_check_valves_are_assumed_and_told() -> None:
    trip = supplied('arrangement = "together"')
    assert ("supply.check_valves", "yes") in {(a.key, a.value) for a in trip.assumptions}


def test_one_cylinder_alone_needs_no_check_valves() -> None:
    keys = 'arrangement = "together"\ncheck_valves = false'
    assert supplied(keys, SMALLEST).supply.arrangement == "together"


def test_a_changeover_without_a_reserve_is_noted() -> None:
    assert any(
        "role reserve" in note for note in supplied('arrangement = "automatic changeover"').notes
    )


def test_a_changeover_below_the_least_inlet_pressure_is_noted() -> None:
    trip = trip_with('changeover = "10 psi"', 'changeover = "3 psi"', GOOD)
    assert any("set below" in note for note in trip.notes)


def test_a_changeover_that_is_not_there_is_noted_as_not_used() -> None:
    assert any("is not used" in note for note in supplied('changeover = "10 psi"').notes)
