"""Readings are entered, corrected and withdrawn, and every one of them stays in sight."""

from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldsoak.errors import InputError
from coldsoak.ledger.journal import (
    adopt,
    correct,
    enter,
    history,
    newest,
    owner,
    readings,
    withdraw,
)
from coldsoak.ledger.reading import Observation
from coldsoak.ledger.rows import observation_of

from .example import START, WEST, folder_in_memory, seen

NAME = "Invented hut, two nights"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where a journal will be."""
    return tmp_path / "trip.journal.sqlite"


def test_a_journal_that_is_not_there_has_no_readings_and_is_not_begun_by_looking(
    path: Path,
) -> None:
    assert readings(path) == ()
    assert history(path) == ()
    assert newest(path, "A", "gross weight") is None
    assert owner(path) is None
    assert not path.exists()


def test_what_was_entered_is_what_is_read(path: Path) -> None:
    what = seen(
        1.5,
        14.25,
        time=START.replace(tzinfo=WEST),
        temperature=253.15,
        temperature_written="-20 degC",
        note='snow wiped off, "twice"\nand again',
    )
    kept = enter(path, NAME, what)
    assert observation_of(kept) == what
    assert history(path) == (kept,)
    assert kept.current
    assert owner(path) == NAME


def test_readings_come_in_the_order_of_their_times_and_history_in_that_of_entering(
    path: Path,
) -> None:
    for hours in (5.0, 1.0, 3.0):
        enter(path, NAME, seen(hours))
    assert [each.id for each in readings(path)] == [2, 3, 1]
    assert [each.id for each in history(path)] == [1, 2, 3]


def test_times_with_and_without_offset_are_in_order_on_the_clock_of_the_place(path: Path) -> None:
    enter(path, NAME, seen(2.0))
    enter(path, NAME, seen(time=(START + timedelta(hours=1)).replace(tzinfo=WEST)))
    enter(path, NAME, seen(3.0))
    assert [each.id for each in readings(path)] == [2, 1, 3]


def test_the_newest_is_by_time_kind_and_subject(path: Path) -> None:
    enter(path, NAME, seen(5.0))
    enter(path, NAME, seen(2.0))
    enter(path, NAME, seen(9.0, cylinder="B"))
    enter(path, NAME, seen(9.0, kind="liquid level"))
    enter(path, NAME, seen(1.0, kind="burner hours", cylinder=None, appliance="furnace"))
    enter(path, NAME, seen(4.0, kind="burner hours", cylinder=None, appliance="stove"))
    assert newest(path, "A", "gross weight").id == 1  # type: ignore[union-attr]
    hours = newest(path, None, "burner hours", appliance="furnace")
    assert hours is not None
    assert hours.id == 5


def test_a_correction_takes_the_place_and_keeps_the_old_value(path: Path) -> None:
    enter(path, NAME, seen(1.0, 14.0))
    new = correct(path, NAME, 1, seen(1.0, 13.0))
    assert [each.value for each in readings(path)] == [13.0]
    old = history(path)[0]
    assert (old.value, old.corrected_by, old.current) == (14.0, new.id, False)
    assert new.corrects == 1


def test_a_withdrawn_reading_stays_in_sight_with_the_reason(path: Path) -> None:
    enter(path, NAME, seen())
    gone = withdraw(path, NAME, 1, "the wrong cylinder")
    assert readings(path) == ()
    assert history(path) == (gone,)
    assert gone.withdrawn is not None
    assert gone.withdrawn.because == "the wrong cylinder"


def test_only_what_counts_can_be_corrected_or_withdrawn(path: Path) -> None:
    for _ in range(2):
        enter(path, NAME, seen())
    correct(path, NAME, 1, seen())
    withdraw(path, NAME, 2, "doubtful")
    for id, words in ((1, "corrected by reading 3"), (2, "withdrawn: doubtful"), (9, "1 to 3")):
        with pytest.raises(InputError, match=words):
            correct(path, NAME, id, seen())
        with pytest.raises(InputError, match=words):
            withdraw(path, NAME, id, "again")
    assert len(history(path)) == 3


def test_withdrawing_a_correction_does_not_bring_the_old_value_back(path: Path) -> None:
    enter(path, NAME, seen())
    correct(path, NAME, 1, seen())
    withdraw(path, NAME, 2, "both were wrong")
    assert readings(path) == ()


def test_the_journal_follows_a_trip_to_its_new_name(path: Path) -> None:
    enter(path, NAME, seen())
    adopt(path, "Another name")
    assert owner(path) == "Another name"


STEPS = st.lists(
    st.tuples(
        st.sampled_from(("enter", "correct", "withdraw")),
        st.integers(1, 12),
        st.floats(0.1, 400.0),
    ),
    max_size=14,
)


@settings(max_examples=100)
@given(STEPS)
def test_whatever_is_done_no_reading_is_lost_or_changed(
    steps: list[tuple[str, int, float]],
) -> None:
    with folder_in_memory() as folder:
        path = folder / "trip.journal.sqlite"
        said, counting = after(path, steps)
        assert {each.id: observation_of(each) for each in history(path)} == said
        assert {each.id for each in readings(path)} == counting


def after(
    path: Path, steps: list[tuple[str, int, float]]
) -> tuple[dict[int, Observation], set[int]]:
    """Do some steps; all that was ever said, by id, and the ids of what counts."""
    said: dict[int, Observation] = {}
    counting: set[int] = set()
    for what, id, value in steps:
        new = seen(value, value)
        if what == "enter":
            kept = enter(path, NAME, new)
        elif id not in counting:
            with pytest.raises(InputError):
                withdraw(path, NAME, id, "in doubt")
            continue
        elif what == "correct":
            kept = correct(path, NAME, id, new)
            counting.remove(id)
        else:
            withdraw(path, NAME, id, "in doubt")
            counting.remove(id)
            continue
        said[kept.id] = new
        counting.add(kept.id)
    return said, counting
