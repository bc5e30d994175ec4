"""The fuel of a trip: grades by any of their names, or mole fractions."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.physics import fuel as physics
from coldsoak.rig.fuel import COMPONENTS, grades
from coldsoak.rig.read import parse_trip

from .example import SMALLEST

SPELLINGS = [
    (spelling, grade["name"])
    for grade in grades().values()
    for spelling in (grade["name"], *grade.get("aliases", ()))
]


def test_the_order_of_the_components_is_that_of_the_physics() -> None:
    assert physics.COMPONENTS == COMPONENTS


@pytest.mark.parametrize(("spelling", "name"), SPELLINGS)
def test_a_grade_answers_to_each_of_its_names(spelling: str, name: str) -> None:
    trip = parse_trip(f'{SMALLEST.replace("15 lb", "5 lb")}[fuel]\nblend = "{spelling.upper()}"\n')
    assert trip.fuel.name == name
    for liquid in (trip.fuel.typical, trip.fuel.worst):
        assert sum(liquid) == pytest.approx(1.0, abs=1e-12)


def test_a_grade_s_compositions_are_told_with_their_source() -> None:
    trip = parse_trip(SMALLEST + '[fuel]\nblend = "HD-5"\n')
    told = {each.key: each for each in trip.assumptions}
    for which in ("typical", "worst"):
        assert "propane" in told[f"fuel.blend.{which}"].value
        assert "D1835" in told[f"fuel.blend.{which}"].source


@given(st.lists(st.floats(0.001, 1.0), min_size=5, max_size=5))
def test_fractions_of_any_blend_add_up_to_one(shares: list[float]) -> None:
    total = sum(shares)
    blend = ", ".join(
        f"{name} = {share / total:.6f}" for name, share in zip(COMPONENTS, shares, strict=True)
    )
    text = SMALLEST.replace("15 lb", "5 lb") + f"[fuel]\nblend = {{ {blend} }}\n"
    fuel = parse_trip(text).fuel
    assert sum(fuel.typical) == pytest.approx(1.0, abs=1e-12)
    # written to six decimals
    assert fuel.typical == pytest.approx([share / total for share in shares], abs=2e-6)
