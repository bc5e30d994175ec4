"""A reading is about a cylinder, an appliance or the rig, by the name that a person typed."""

import pytest

from coldsoak.errors import InputError
from coldsoak.ledger.kinds import kind
from coldsoak.ledger.subject import Names, Subject, subject

NAMES = Names(("A", "B", "spare one"), ("furnace", "stove"))


@pytest.mark.parametrize(
    ("of", "typed", "about"),
    [
        ("gross weight", "A", Subject("A", None)),
        ("gross weight", "b ", Subject("B", None)),
        ("gross weight", "Spare-One", Subject("spare one", None)),
        ("lock-out", "Furnace", Subject(None, "furnace")),
        ("outside temperature", "rig", Subject(None, None)),
        ("outside temperature", "-", Subject(None, None)),
        ("note", "A", Subject("A", None)),
        ("note", "stove", Subject(None, "stove")),
        ("note", "rig", Subject(None, None)),
    ],
)
def test_the_name_is_found(of: str, typed: str, about: Subject) -> None:
    assert subject(kind(of), typed, NAMES) == about


@pytest.mark.parametrize(
    ("of", "typed", "words"),
    [
        ("gross weight", "spare on", "did you mean spare one?"),
        ("gross weight", "furnace", "known: A, B, spare one"),
        ("lock-out", "A", "known: furnace, stove"),
        ("outside temperature", "A", "write rig"),
        ("note", "Z", "known: A, B, spare one, furnace, stove, rig"),
    ],
)
def test_an_unknown_name_is_answered_with_those_that_are_known(
    of: str, typed: str, words: str
) -> None:
    with pytest.raises(InputError) as caught:
        subject(kind(of), typed, NAMES)
    assert words in str(caught.value)


def test_capitals_count_where_two_names_differ_by_nothing_else() -> None:
    both = Names(("A", "a"), ())
    assert subject(kind("gross weight"), "a", both).cylinder == "a"
    with pytest.raises(InputError):
        subject(kind("gross weight"), "a ", both)


def test_a_cylinder_called_rig_is_still_a_cylinder() -> None:
    assert subject(kind("note"), "rig", Names(("rig",), ())) == Subject("rig", None)


def test_where_there_is_no_appliance_that_is_said() -> None:
    with pytest.raises(InputError, match="the trip file has no appliance"):
        subject(kind("lock-out"), "furnace", Names(("A",), ()))
