"""A weight says how much fuel there is and what was used; what cannot be is refused."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.errors import InputError
from coldsoak.ledger.observe import observe
from coldsoak.ledger.plausible import heaviest, height, require_plausible
from coldsoak.ledger.reading import Observation, Reading
from coldsoak.ledger.subject import Names
from coldsoak.ledger.weighed import weighed

from .example import START, WEST, seen, trip

A = trip().cylinders[0]
FUEL = trip().fuel
POUND = 0.45359237
NAMES = Names(("A", "B"), ("furnace",))


def kept(id: int, what: Observation) -> Reading:
    """A reading in a journal."""
    fields = {name: getattr(what, name) for name in Observation.__annotations__}
    return Reading(**fields, id=id, entered=START.replace(tzinfo=WEST))


def pounds(hours: float, weight: float, **changes: object) -> Observation:
    """A weight in pounds some hours after the start."""
    return seen(hours, weight * POUND, written=f"{weight} lb", **changes)


def test_contents_are_gross_less_tare() -> None:
    found = weighed(kept(1, pounds(1, 31.2)), A, [], START)
    assert found.contents == pytest.approx(14.2 * POUND)  # tare 17 lb
    assert not found.overfilled


def test_without_an_earlier_weight_it_is_held_against_the_trip_file() -> None:
    found = weighed(kept(1, pounds(12, 31.2)), A, [], START)
    assert found.before is not None
    assert found.before.reading is None
    assert found.used == pytest.approx(3.8 * POUND)  # the trip file says 18 lb
    assert found.per_day == pytest.approx(7.6 * POUND)


def test_a_weight_before_the_start_is_held_against_nothing() -> None:
    found = weighed(kept(1, pounds(-1, 31.2)), A, [], START)
    assert (found.before, found.used) == (None, None)


def test_use_is_counted_since_the_last_weight_of_the_same_cylinder() -> None:
    others = [
        kept(1, pounds(1, 35.0)),
        kept(2, pounds(5, 33.0)),
        kept(3, pounds(6, 30.0, cylinder="B")),
        kept(4, pounds(30, 20.0)),
    ]
    found = weighed(kept(5, pounds(17, 31.0)), A, others, START)
    assert found.before is not None
    assert found.before.reading == others[1]
    assert found.seconds == 12 * 3600.0
    assert found.used == pytest.approx(2.0 * POUND)
    assert found.per_day == pytest.approx(4.0 * POUND)


def test_a_contents_weight_needs_no_tare() -> None:
    others = [kept(1, pounds(1, 16.0, kind="contents weight"))]
    found = weighed(kept(2, pounds(13, 31.0)), A, others, START)
    assert found.used == pytest.approx(2.0 * POUND)


def test_what_was_put_in_counts_as_used_only_when_it_is_gone() -> None:
    others = [kept(1, pounds(1, 20.0)), kept(2, pounds(3, 15.0, kind="refilled"))]
    found = weighed(kept(3, pounds(13, 31.0)), A, others, START)
    assert found.used == pytest.approx(4.0 * POUND)


def test_after_a_refill_of_unknown_amount_the_use_cannot_be_told() -> None:
    refill = seen(3, kind="refilled", value=None, written="")
    found = weighed(
        kept(3, pounds(13, 31.0)), A, [kept(1, pounds(1, 20.0)), kept(2, refill)], START
    )
    assert (found.used, found.per_day) == (None, None)


def test_fuel_that_appeared_is_no_use_and_gives_no_rate() -> None:
    found = weighed(kept(2, pounds(13, 34.0)), A, [kept(1, pounds(1, 20.0))], START)
    assert found.used == pytest.approx(-14.0 * POUND)
    assert found.per_day is None


def test_a_short_time_gives_no_rate() -> None:
    found = weighed(kept(2, pounds(1.5, 30.9)), A, [kept(1, pounds(1, 31.0))], START)
    assert found.used == pytest.approx(0.1 * POUND)
    assert found.per_day is None


def test_a_time_with_its_offset_meets_the_local_start_of_the_trip() -> None:
    time = (START + timedelta(hours=12)).replace(tzinfo=WEST)
    found = weighed(kept(1, pounds(0, 31.2, time=time)), A, [], START)
    assert found.seconds == 12 * 3600.0


def test_too_much_fuel_is_a_fact_and_is_said() -> None:
    require_plausible("gross weight", 38.0 * POUND, "38 lb", A, FUEL)
    assert weighed(kept(1, pounds(1, 38.0)), A, [], START).overfilled


def test_a_scale_may_round_at_the_limit() -> None:
    assert not weighed(kept(1, pounds(1, 37.1)), A, [], START).overfilled


def test_an_empty_cylinder_may_read_a_little_less_than_its_tare() -> None:
    require_plausible("gross weight", 16.6 * POUND, "16.6 lb", A, FUEL)
    assert weighed(kept(1, pounds(1, 16.6)), A, [], START).contents == 0.0


@pytest.mark.parametrize(
    ("kind", "text", "words"),
    [
        ("gross weight", "16.4 lb", "weighs 7.71 kg (17.0 lb) by the trip file"),
        ("gross weight", "9 lb", "9 kg would fit: which unit"),
        ("gross weight", "31.2 kg", "31.2 lb would fit: which unit"),
        ("gross weight", "3120 lb", "with no room left in it"),
        ("gross weight", "31 g", "check the scale, its unit, the tare, the name"),
        ("contents weight", "14.2 kg", "14.2 lb would fit"),
        ("refilled", "60 lb", "with no room left in it"),
        ("liquid level", "20 in", "high without foot ring and collar"),
    ],
)
def test_what_cannot_be_is_refused_with_the_likely_reason(kind: str, text: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        observe(trip(), NAMES, kind, "A", text, START)
    assert words in str(caught.value)
    assert "was not kept" in str(caught.value)
    assert text in str(caught.value)


@given(st.floats(0.0, 1.0))
def test_whatever_a_cylinder_can_hold_is_kept(share: float) -> None:
    gross = A.tare + share * heaviest(A, FUEL)
    require_plausible("gross weight", gross, f"{gross} kg", A, FUEL)
    found = weighed(kept(1, seen(1, gross)), A, [], START)
    assert found.contents == pytest.approx(gross - A.tare, abs=1e-12)
    assert found.overfilled == (found.contents > A.limit * 1.01)


def test_a_level_up_to_the_top_of_the_body_is_kept() -> None:
    assert 0.25 < height(A) < 0.40  # a generic 20 lb body of 12 in: about a foot high
    require_plausible("liquid level", height(A), "", A, FUEL)


def test_a_body_that_lies_is_as_high_as_it_is_wide() -> None:
    from dataclasses import replace

    assert height(replace(A, upright=False)) == pytest.approx(A.diameter + 2 * A.thickness)


def test_an_error_says_what_it_is_about() -> None:
    for key, changes in {
        "kind": {"kind": "wait"},
        "about": {"about": "Z"},
        "reading": {"value": "31"},
        "temperature": {"temperature": "cold"},
        "note": {"note": "\x00"},
    }.items():
        given = {"kind": "gross weight", "about": "A", "value": "31 lb", "time": START} | changes
        with pytest.raises(InputError) as caught:
            observe(trip(), NAMES, **given)  # type: ignore[arg-type]
        assert caught.value.key == key
