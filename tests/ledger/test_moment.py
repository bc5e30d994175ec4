"""Times are read as people say them, and what is not known of their clock stays unknown."""

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.errors import InputError
from coldsoak.ledger.moment import (
    instant,
    moment_of,
    offset_words,
    place_offset,
    read_moment,
    seconds_since,
    utc_text,
)

from .example import START, WEST, seen

NOW = datetime(2026, 1, 17, 6, 30, 59, tzinfo=WEST)
AWARE = START.replace(tzinfo=WEST)


def test_a_time_with_its_offset_keeps_it() -> None:
    time = read_moment("2026-01-17T07:30-07:00", START, NOW)
    assert time.isoformat() == "2026-01-17T07:30:00-07:00"


def test_a_time_without_offset_stays_without_one() -> None:
    assert read_moment("2026-01-17 07:30", START, NOW).tzinfo is None


def test_a_time_without_offset_takes_that_of_the_trip() -> None:
    assert read_moment("2026-01-17 07:30", AWARE, NOW).isoformat() == "2026-01-17T07:30:00-07:00"


@pytest.mark.parametrize(
    ("clock", "time"),
    [
        ("06:30", "2026-01-17T06:30:00"),
        ("6:31", "2026-01-16T06:31:00"),
        ("22:00:05", "2026-01-16T22:00:05"),
        ("00:00", "2026-01-17T00:00:00"),
    ],
)
def test_a_time_of_day_is_the_last_one(clock: str, time: str) -> None:
    assert read_moment(clock, START, NOW).isoformat() == time


def test_a_time_of_day_is_by_the_clock_of_the_trip() -> None:
    at_home = NOW.astimezone(UTC)
    assert read_moment("06:00", AWARE, at_home).isoformat() == "2026-01-17T06:00:00-07:00"


def test_now_is_by_the_clock_of_the_trip_and_to_the_second() -> None:
    now = datetime(2026, 1, 17, 13, 30, 0, 123456, tzinfo=UTC)
    assert moment_of(now, AWARE).isoformat() == "2026-01-17T06:30:00-07:00"
    assert moment_of(now, START).isoformat() == "2026-01-17T13:30:00+00:00"


@pytest.mark.parametrize(
    "text", ["", "soon", "24:61", "2026-13-01", "17.1.2026 7:30", "1850-01-01", "2300-01-01T00:00"]
)
def test_what_is_no_time_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_moment(text, START, NOW)


@given(st.text(max_size=30))
def test_any_text_is_a_time_or_refused(text: str) -> None:
    try:
        time = read_moment(text, START, NOW)
    except InputError:
        return
    assert 1900 <= time.year <= 2200


def test_the_place_is_at_the_first_offset_that_is_known() -> None:
    east = timezone(timedelta(hours=9))
    readings = [seen(), seen(time=AWARE), seen(time=START.replace(tzinfo=east))]
    assert place_offset(readings) == timedelta(hours=-7)
    assert place_offset(readings, START.replace(tzinfo=east)) == timedelta(hours=9)
    assert place_offset([seen()]) == timedelta(0)


def test_seconds_since_the_start_are_true_seconds_across_a_change_of_clocks() -> None:
    before, after = "2026-03-07T22:00-07:00", "2026-03-08T07:00-06:00"
    times = [datetime.fromisoformat(text) for text in (before, after)]
    assert seconds_since(*times, timedelta(hours=-7)) == 8 * 3600.0


def test_a_time_without_offset_counts_at_that_of_the_place() -> None:
    assert seconds_since(AWARE, START + timedelta(hours=2), timedelta(hours=-7)) == 7200.0
    assert instant(START, timedelta(hours=-7)) == AWARE


@given(st.datetimes(datetime(1901, 1, 1), datetime(2199, 1, 1)), st.integers(-50400, 50400))
def test_the_text_of_a_moment_is_read_again(time: datetime, offset: int) -> None:
    aware = time.replace(tzinfo=timezone(timedelta(seconds=offset)))
    assert datetime.fromisoformat(utc_text(aware)) == aware


def test_a_clock_that_is_not_known_is_called_so() -> None:
    assert offset_words(START) == "clock of the place, UTC offset not known"
