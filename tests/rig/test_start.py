"""A new trip file is a trip, whatever the answers."""

from contextlib import suppress
from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.errors import InputError
from coldsoak.rig.read import parse_trip
from coldsoak.rig.start import QUESTIONS, Answers, quoted, trip_text
from coldsoak.rig.trip import DailyWeather


def test_the_answers_nobody_gave_make_a_trip_that_needs_no_note_but_one() -> None:
    trip = parse_trip(trip_text(Answers()))
    assert len(trip.cylinders) == 2
    assert trip.shelter is not None
    assert all("not used by this version" in note for note in trip.notes)


def test_every_answer_has_a_question() -> None:
    assert [question.field for question in QUESTIONS] == [each.name for each in fields(Answers)]


@pytest.mark.parametrize(("length", "days"), [("1 h", 1), ("8 h", 1), ("9 h", 2), ("40 h", 3)])
def test_there_is_a_low_and_a_high_for_every_day(length: str, days: int) -> None:
    weather = parse_trip(trip_text(Answers(length=length))).weather
    assert isinstance(weather, DailyWeather)
    assert len(weather.lows) == len(weather.highs) == days


@given(st.text(max_size=40))
def test_any_text_survives_its_quotation_marks(name: str) -> None:
    with suppress(InputError):
        assert parse_trip(trip_text(Answers(name=name))).name == name
    assert "\n" not in quoted(name)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("start", "tomorrow"),
        ("length", "two days"),
        ("elevation", "800"),
        ("low", "cold"),
        ("fuel", "wood"),
        ("size", "19 lb"),
        ("contents", "25 lb"),
        ("cylinders", 0),
        ("cylinders", 27),
        ("furnace", "-5 W"),
    ],
)
def test_an_answer_that_is_no_trip_is_refused(field: str, value: object) -> None:
    with pytest.raises(InputError):
        trip_text(replace(Answers(), **{field: value}))
