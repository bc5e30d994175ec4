"""Every kind of reading has its dimension and its range, and keeps what a person wrote."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.errors import InputError
from coldsoak.ledger.kinds import (
    LONGEST,
    Kind,
    kind,
    kinds,
    read_temperature,
    read_value,
    read_words,
)
from coldsoak.rig.units import dimensions, parse, show

MEASURED = [of for of in kinds().values() if of.dimension]
EVENTS = [of for of in kinds().values() if not of.dimension]


def names(of: Kind) -> str:
    """How a test of a kind is called."""
    return of.name


def test_what_a_plan_and_a_fit_need_can_be_kept() -> None:
    assert set(kinds()) >= {
        *("gross weight", "contents weight", "liquid level", "float gauge", "liquid temperature"),
        *("inside temperature", "outside temperature", "burner hours", "cylinder pressure"),
        *("cylinder changed", "refilled", "lock-out", "failure", "note", "battery charge"),
    }


def test_no_two_kinds_answer_to_one_word() -> None:
    words = [word for of in kinds().values() for word in (of.name, *of.aliases)]
    assert len(words) == len(set(words))
    assert all(kind(word.upper()).name == kind(word).name for word in words)


@pytest.mark.parametrize("of", MEASURED, ids=names)
def test_the_ends_of_the_range_are_in_it_and_what_is_beyond_is_not(of: Kind) -> None:
    assert of.low is not None
    assert of.high is not None
    assert of.dimension is not None
    low, high = parse(of.low, of.dimension), parse(of.high, of.dimension)
    unit = of.high.split()[-1]
    step = (float(of.high.split()[0]) - float(of.low.split()[0])) / 1000.0
    assert read_value(of, of.high).si == pytest.approx(high)
    if of.above:
        with pytest.raises(InputError, match="more than"):
            read_value(of, of.low)
    else:
        assert read_value(of, of.low).si == pytest.approx(low)
    for beyond in (float(of.high.split()[0]) + step, float(of.low.split()[0]) - step):
        with pytest.raises(InputError, match="it must be"):
            read_value(of, f"{beyond} {unit}")


@given(st.sampled_from(MEASURED), st.floats(0.001, 0.999), st.data())
def test_every_unit_of_a_kind_gives_the_same_value(
    of: Kind, share: float, data: st.DataObject
) -> None:
    assert of.dimension is not None
    assert of.low is not None
    assert of.high is not None
    low, high = parse(of.low, of.dimension), parse(of.high, of.dimension)
    value = low + share * (high - low)
    spelling = data.draw(st.sampled_from(sorted(dimensions()[of.dimension].spellings)))
    unit = parse(f"1 {spelling}", of.dimension) - parse(f"0 {spelling}", of.dimension)
    number = (value - parse(f"0 {spelling}", of.dimension)) / unit
    kept = read_value(of, f"{number!r} {spelling}")
    assert kept.written == f"{number!r} {spelling}"
    # Two conversions of double precision, at most a few units of the last place of 500 K.
    assert kept.si == pytest.approx(value, rel=1e-12, abs=1e-12 * (abs(low) + abs(high)))


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("of", MEASURED, ids=names)
def test_what_a_face_shows_is_read_again(of: Kind, units: str) -> None:
    assert of.dimension is not None
    assert of.low is not None
    assert of.high is not None
    low, high = parse(of.low, of.dimension), parse(of.high, of.dimension)
    text = show(low + 0.4 * (high - low), of.dimension, units)
    kept = read_value(of, text)
    assert kept.si is not None
    assert math.isfinite(kept.si)
    assert show(kept.si, of.dimension, units) == text


@pytest.mark.parametrize("of", MEASURED, ids=names)
@pytest.mark.parametrize("text", ["31", "unknown", "1 .. 2", "two", "1 furlong", "nan kg"])
def test_what_is_no_single_value_with_its_unit_is_refused(of: Kind, text: str) -> None:
    with pytest.raises(InputError) as caught:
        read_value(of, text)
    assert text in caught.value.found


@pytest.mark.parametrize("of", MEASURED, ids=names)
def test_only_a_refill_may_stand_without_its_value(of: Kind) -> None:
    if of.name == "refilled":
        assert read_value(of, " ").si is None
    else:
        with pytest.raises(InputError, match="one value with its unit"):
            read_value(of, " ")


@pytest.mark.parametrize("of", EVENTS, ids=names)
def test_an_event_keeps_its_words_and_some_need_them(of: Kind) -> None:
    kept = read_value(of, "  it went out at four ")
    assert (kept.si, kept.written) == (None, "it went out at four")
    if of.needs_words:
        with pytest.raises(InputError, match="without words"):
            read_value(of, "")
    else:
        assert read_value(of, "").written == ""


def test_the_temperature_beside_a_reading_may_be_left_out() -> None:
    assert read_temperature("").si is None
    assert read_temperature("-4 degF").si == pytest.approx(253.15)
    with pytest.raises(InputError):
        read_temperature("-4")


def test_an_unknown_kind_is_answered_with_the_nearest() -> None:
    with pytest.raises(InputError, match='did you mean "float gauge"'):
        kind("flote gauge")


@pytest.mark.parametrize(
    "text", ["a\x00b", "a\x1b[31mb", "a\x7fb", "a\udcffb", "x" * (LONGEST + 1)]
)
def test_words_that_no_terminal_should_get_are_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_words(text)


@given(st.text(st.characters(codec="utf-8", exclude_categories=["Cc"]), max_size=50))
def test_words_are_kept_as_they_were_but_for_the_spaces_around(text: str) -> None:
    assert read_words(text) == text.strip()
    assert read_words(read_words(text)) == read_words(text)
