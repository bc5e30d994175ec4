"""The cautions follow from plain facts: what must be said is said, once, and nothing else is."""

from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.cautions import CROSS_FILL, OVERFILL, RULES, Facts, cautions_for

FACTS = st.builds(Facts, **{field.name: st.booleans() for field in fields(Facts)})

LONGEST = 160
"""Two lines of 80 columns."""


def codes(**facts: bool) -> list[str]:
    """Codes of the cautions that belong to some facts."""
    return [code for code, _ in cautions_for(Facts(**facts))]


def test_nothing_there_needs_no_caution() -> None:
    assert codes() == []


@pytest.mark.parametrize(
    ("fact", "code"),
    [
        ("unvented_indoors", "unvented-flame"),
        ("outdoor_only", "outdoors-only"),
        ("cylinders", "gas-smell"),
        ("cylinders", "outside-upright"),
        ("locker", "locker-vent"),
        ("lying", "lying"),
        ("together", "check-valves"),
        ("heater", "heater"),
        ("heater", "no-warming"),
        ("starts_warm", "no-warming"),
        ("too_cold", "no-warming"),
        ("changes", "soap-test"),
        ("locks_out", "lock-out"),
    ],
)
def test_one_fact_calls_for_its_caution(fact: str, code: str) -> None:
    assert code in codes(**{fact: True})


def test_a_flame_in_a_room_calls_for_the_carbon_monoxide_alarm_even_when_vented() -> None:
    assert "co-alarm" in codes(burning=True, occupied=True)
    assert "co-alarm" not in codes(burning=True)
    assert "co-alarm" not in codes(occupied=True)


def test_flames_without_a_flue_are_put_out_before_anyone_sleeps() -> None:
    assert "unvented-asleep" in codes(unvented_indoors=True, sleeping=True)
    assert "unvented-asleep" not in codes(unvented_indoors=True)


def test_no_caution_about_unvented_flames_calls_the_air_safe() -> None:
    text = dict(cautions_for(Facts(unvented_indoors=True)))["unvented-flame"]
    assert "Nothing here says anything about carbon monoxide" in text
    assert "vent" in text


def test_overfill_and_crossfill_say_what_happens_and_what_to_do_or_not() -> None:
    assert "call the gas supplier" in OVERFILL
    assert "check valves" in CROSS_FILL


@given(FACTS)
def test_each_caution_is_said_once_and_in_fixed_order(facts: Facts) -> None:
    said = [code for code, _ in cautions_for(facts)]
    assert said == [rule.code for rule in RULES if rule.code in said]


@given(FACTS, FACTS)
def test_more_facts_never_silence_a_caution(one: Facts, other: Facts) -> None:
    both = Facts(
        **{
            field.name: getattr(one, field.name) or getattr(other, field.name)
            for field in fields(Facts)
        }
    )
    assert set(cautions_for(one)) <= set(cautions_for(both))


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.code)
def test_a_caution_is_short_and_a_full_sentence(rule: object) -> None:
    text = rule.text  # type: ignore[attr-defined]
    assert len(text) <= LONGEST
    assert text[0].isupper()
    assert text.endswith(".")
