"""A journal goes into a CSV file and comes back the same; what cannot be read is named."""

import csv
import io
from datetime import timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coldsoak.errors import InputError
from coldsoak.ledger.columns import EXPORTED
from coldsoak.ledger.export import export_text, write_export
from coldsoak.ledger.intake import LARGEST, Row, read_rows, read_text
from coldsoak.ledger.journal import correct, enter, history, readings, withdraw
from coldsoak.ledger.kinds import kinds, read_temperature, read_value
from coldsoak.ledger.merge import Merged, merge
from coldsoak.ledger.reading import Observation
from coldsoak.ledger.subject import Names
from coldsoak.rig.units import dimensions, show

from .example import START, WEST, folder_in_memory, seen, trip, with_offset

NAME = "Invented hut, two nights"
NAMES = Names(("A", "B"), ("furnace",))
HEAD = "time, cylinder, kind, reading\n"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where a journal will be."""
    return tmp_path / "trip.journal.sqlite"


def rows(text: str, names: Names = NAMES) -> list[Row]:
    """The rows of a text."""
    return read_rows(text, "night.csv", trip(), names)


def taken_in(path: Path, text: str) -> Merged:
    """Import a text."""
    return merge(path, NAME, rows(text), "night.csv")


def refusal(text: str) -> str:
    """What a text is refused with."""
    with pytest.raises(InputError) as caught:
        rows(text)
    message = str(caught.value)
    assert "\n" not in message
    assert caught.value.file == "night.csv"
    return message


WORDS = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc"]) | st.sampled_from('\n\t",;#[]'),
    max_size=20,
).map(str.strip)

TIMES = st.datetimes(START - timedelta(days=400), START + timedelta(days=400)).flatmap(
    lambda time: st.one_of(
        st.just(time),
        st.integers(-840, 840).map(
            lambda minutes: time.replace(tzinfo=timezone(timedelta(minutes=minutes)))
        ),
    )
)


@st.composite
def observations(draw: st.DrawFn) -> Observation:
    """Any observation that can be kept, of any kind, in any unit."""
    of = draw(st.sampled_from(list(kinds().values())))
    if of.dimension is None:
        text = draw(WORDS.filter(bool)) if of.needs_words else draw(WORDS)
    else:
        low, high = (
            read_value(of._replace(above=False), end).si for end in (of.low or "", of.high or "")
        )
        assert low is not None
        assert high is not None
        units = draw(st.sampled_from(["us", "si"]))
        share = draw(st.floats(0.01, 0.99))
        text = show(low + share * (high - low), of.dimension, units)
    value = read_value(of, text)
    warmth = read_temperature(draw(st.sampled_from(["", "-12.5 degC", "4 degF", "255.1 K"])))
    name = draw(st.sampled_from(["A", "B", " C 'x' ", ',"', "Ümläut", "#4"]))
    is_cylinder = of.about == "cylinder" or (of.about == "anything" and draw(st.booleans()))
    return Observation(
        time=draw(TIMES),
        kind=of.name,
        cylinder=name if is_cylinder else None,
        appliance="furnace" if of.about == "appliance" else None,
        value=value.si,
        written=value.written,
        temperature=warmth.si,
        temperature_written=warmth.written,
        note=draw(WORDS),
    )


def fill(path: Path, given: list[tuple[Observation, str, int]]) -> None:
    """A journal of some observations, some of which correct or withdraw an earlier one."""
    for what, how, which in given:
        counting = [each.id for each in readings(path)]
        if how == "correct" and counting:
            correct(path, NAME, counting[which % len(counting)], what)
        elif how == "withdraw" and counting:
            withdraw(path, NAME, counting[which % len(counting)], what.note or "in doubt")
        else:
            enter(path, NAME, what)


JOURNALS = st.lists(
    st.tuples(observations(), st.sampled_from(["enter", "correct", "withdraw"]), st.integers(0, 9)),
    min_size=1,
    max_size=8,
)


@settings(max_examples=150)
@given(JOURNALS)
def test_an_export_makes_the_same_journal_again(
    given: list[tuple[Observation, str, int]],
) -> None:
    with folder_in_memory() as folder:
        old, new = folder / "old.journal.sqlite", folder / "new.journal.sqlite"
        fill(old, given)
        text = export_text(history(old))
        merged = taken_in(new, text)
        assert history(new) == history(old)
        assert export_text(history(new)) == text
        assert len(merged.added) == len(history(old))


@settings(max_examples=60)
@given(JOURNALS)
def test_a_second_import_of_an_export_adds_nothing(
    given: list[tuple[Observation, str, int]],
) -> None:
    with folder_in_memory() as folder:
        path = folder / "trip.journal.sqlite"
        fill(path, given)
        before = history(path)
        merged = taken_in(path, export_text(before))
        assert history(path) == before
        assert (merged.added, merged.withdrawn) == ((), ())
        assert [known.id for known in merged.known] == [each.id for each in before]


def test_the_header_of_an_export_names_columns_and_units(path: Path) -> None:
    enter(path, NAME, seen(1.0, 14.25, temperature=253.15, temperature_written="-20 degC"))
    header, row = csv.reader(io.StringIO(export_text(history(path))))
    cells = dict(zip(header, row, strict=True))
    assert header == list(EXPORTED)
    assert (cells["reading"], cells["value"], cells["unit"]) == ("14.25 kg", "14.25", "kg")
    assert (cells["temperature"], cells["temperature [K]"]) == ("-20 degC", "253.15")
    assert cells["time"] == "2026-01-16T17:00:00"


def test_a_later_export_brings_what_is_new_and_what_was_changed(path: Path, tmp_path: Path) -> None:
    here, there = path, tmp_path / "other.journal.sqlite"
    for hours in range(3):
        enter(here, NAME, seen(hours))
    taken_in(there, export_text(history(here)))
    enter(there, NAME, seen(9, cylinder="B"))
    correct(here, NAME, 1, seen(0, 13.0))
    withdraw(here, NAME, 2, "in doubt")
    merged = taken_in(there, export_text(history(here)))
    assert len(merged.known) == 3
    assert (len(merged.added), merged.withdrawn) == (1, (2,))
    found = {each.id: each for each in history(there)}
    assert found[5].corrects == 1
    assert found[4].cylinder == "B"
    assert [each.id for each in readings(there)] == [5, 3, 4]


def test_what_was_changed_in_both_is_named_and_nothing_of_the_file_is_taken(
    path: Path, tmp_path: Path
) -> None:
    here, there = path, tmp_path / "other.journal.sqlite"
    enter(here, NAME, seen())
    taken_in(there, export_text(history(here)))
    enter(here, NAME, seen(5))
    correct(here, NAME, 1, seen(0, 13.0))
    correct(there, NAME, 1, seen(0, 12.0))
    before = history(there)
    with pytest.raises(InputError) as caught:
        taken_in(there, export_text(history(here)))
    assert "reading 1 was corrected by reading 2" in str(caught.value)
    assert caught.value.line == 4
    assert history(there) == before


def test_rows_of_a_person_are_held_against_the_trip(path: Path) -> None:
    text = (
        "# from the notebook\n"
        "time, cylinder, kind, reading, note\n"
        '2026-01-16T17:00, A, gross weight, 34.5 lb, "cold, no wind"\n'
        "\n"
        "2026-01-17 07:30, b, gross, 15 kg,\n"
        "2026-01-17T07:30-07:00, , outside, -4 degF,\n"
        "2026-01-17T08:00, furnace, lockout, , smelled nothing\n"
    )
    merged = taken_in(path, text)
    assert merged.added == (1, 2, 3, 4)
    first, second, third, fourth = history(path)
    assert (first.cylinder, first.written, first.note) == ("A", "34.5 lb", "cold, no wind")
    assert (second.cylinder, second.kind, second.value) == ("B", "gross weight", 15.0)
    assert (third.cylinder, third.value) == (None, pytest.approx(253.15))
    assert third.time.tzinfo is not None
    assert (fourth.appliance, fourth.written) == ("furnace", "")


def test_a_column_may_hold_one_kind_with_its_unit_in_the_header(path: Path) -> None:
    text = (
        "Time [UTC-7], Cylinder, Gross weight (lb), outside [degF], temperature [degC]\n"
        "2026-01-16 17:00, A, 34.5, 5, -15\n"
        "2026-01-16 18:00, A, , 4,\n"
        "2026-01-16 18:00, B, 35, 4, -16\n"
    )
    merged = taken_in(path, text)
    assert [(each.kind, each.written) for each in history(path)] == [
        ("gross weight", "34.5 lb"),
        ("outside temperature", "5 degF"),
        ("outside temperature", "4 degF"),
        ("gross weight", "35 lb"),
    ]
    assert [(known.line, known.id) for known in merged.known] == [(4, 3)]
    assert history(path)[0].temperature_written == "-15 degC"
    assert history(path)[0].time.utcoffset() == timedelta(hours=-7)


def test_value_and_unit_may_stand_apart(path: Path) -> None:
    taken_in(path, "time,cylinder,kind,value,unit\n2026-01-17T07:30,A,gross weight,31.5,lb\n")
    assert history(path)[0].written == "31.5 lb"


def test_times_of_a_person_take_the_offset_of_the_trip_and_those_of_an_export_do_not(
    path: Path,
) -> None:
    text = HEAD + "2026-01-17T07:30, A, gross weight, 14 kg\n"
    found = read_rows(text, "night.csv", with_offset(), NAMES)
    assert found[0].seen.time.utcoffset() == WEST.utcoffset(None)
    enter(path, NAME, seen())
    found = read_rows(export_text(history(path)), "night.csv", with_offset(), NAMES)
    assert found[0].seen.time.tzinfo is None


def test_a_repeated_row_is_told_and_not_doubled(path: Path) -> None:
    row = "2026-01-16T17:00, A, gross weight, 34.5 lb\n"
    merged = taken_in(path, HEAD + row + row)
    assert (merged.added, [tuple(known) for known in merged.known]) == ((1,), [(3, 1)])
    merged = taken_in(path, HEAD + row)
    assert (merged.added, [tuple(known) for known in merged.known]) == ((), [(2, 1)])
    assert len(history(path)) == 1


def test_a_row_that_was_corrected_since_is_still_known(path: Path) -> None:
    row = "2026-01-16T17:00, A, gross weight, 34.5 lb\n"
    taken_in(path, HEAD + row)
    correct(path, NAME, 1, seen(1, 15.0))
    assert taken_in(path, HEAD + row).added == ()


def test_an_export_keeps_the_names_that_the_trip_has_no_more(path: Path) -> None:
    enter(path, NAME, seen(cylinder="old one"))
    text = export_text(history(path))
    assert rows(text, Names(("A",), ()))[0].seen.cylinder == "old one"


GOOD_ROW = "2026-01-17T07:30, A, gross weight, 31.2 lb\n"


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("", "night.csv: ", "an empty file"),
        ("time, cylinder\n", "line 1: ", "no column that holds readings"),
        ("cylinder, kind, reading\n", "line 1: ", "no column time"),
        ("time; cylinder; kind\n", "line 1: ", "semicolons"),
        ("time, kind, reading, time\n", "line 1: ", 'a second column "time"'),
        ("time, cylindre, kind, reading\n", "line 1, column 2: ", "did you mean cylinder?"),
        ("time, cylinder, gross weight\n", 'line 1, column "gross weight": ', "gross weight [kg]"),
        ("time, gross weight [m]\n", "line 1, ", 'the unknown unit "m"'),
        ("time, lock-out\n", "line 1, column 2: ", "the unknown column"),
        ("time, kind, reading, temperature [m]\n", "line 1, ", "temperature [degC]"),
        ("time [XYZ], kind, reading\n" + "x,x,x\n", "line 1, time: ", "unknown time zone"),
        (HEAD + GOOD_ROW + "2026-01-17, A, gross weight\n", "line 3: ", "3 cells; 4 as in"),
        (HEAD + "2026-01-17T07:30, A, gross weight, 31,2 lb\n", "line 2: ", "decimal point"),
        (HEAD + GOOD_ROW + "\n# x\nnoon, A, gross, 31 lb\n", "line 5, time: ", '"noon" is no time'),
        (HEAD + "2026-01-17T07:30, C, gross, 31 lb\n", "line 2, cylinder: ", "known: A, B"),
        (HEAD + "2026-01-17T07:30, A, grss, 31 lb\n", "line 2, kind: ", 'did you mean "gross'),
        (HEAD + "2026-01-17T07:30, A, gross, 31\n", "line 2, reading: ", "without a unit"),
        (HEAD + "2026-01-17T07:30, A, gross, 9 lb\n", "line 2, reading: ", "the empty cylinder"),
        (HEAD + "2026-01-17T07:30, A, lockout,\n", "line 2, appliance: ", "known: furnace"),
        ("time,cylinder,level [in]\n" + "2026-01-17T07:30,A,x\n", "line 2, level [in]: ", '"x in"'),
        (HEAD + '2026-01-17T07:30, A, "gross, 31 lb\n', "line 2: ", "a broken row"),
        (
            HEAD.strip() + ", corrects\n" + GOOD_ROW.strip() + ", 1\n",
            "line 2, corrects: ",
            "export",
        ),
        (HEAD.strip() + ",note\n" + GOOD_ROW.strip() + ",a\x07\n", "line 2, note: ", "control"),
    ],
)
def test_what_cannot_be_read_is_named_with_line_and_column(
    text: str, place: str, words: str
) -> None:
    message = refusal(text)
    assert place in message
    assert words in message


EXPORT_ROW = {
    "id": "1",
    "time": "2026-01-17T07:30:00",
    "cylinder": "A",
    "kind": "gross weight",
    "reading": "14.25 kg",
    "value": "14.25",
    "unit": "kg",
    "entered [UTC]": "2026-01-17T14:31:00+00:00",
}


def export_of(**changes: str) -> str:
    """An export of one reading with some cells changed; spaces in names written as _."""
    cells = EXPORT_ROW | {name.replace("_", " "): cell for name, cell in changes.items()}
    file = io.StringIO()
    writer = csv.DictWriter(file, EXPORTED, restval="")
    writer.writeheader()
    writer.writerow(cells)
    return file.getvalue()


def test_a_plain_export_row_is_read() -> None:
    assert rows(export_of())[0].seen.value == 14.25


@pytest.mark.parametrize(
    ("changes", "place", "words"),
    [
        ({"value": "14.26"}, "line 2, value: ", "the text beside it says 14.25"),
        ({"value": "much"}, "line 2, value: ", "the text beside it says 14.25"),
        ({"value": "nan"}, "line 2, value: ", "the text beside it says 14.25"),
        ({"unit": "lb"}, "line 2, unit: ", "gross weight has the unit kg"),
        ({"temperature [K]": "250"}, "line 2, temperature [K]: ", "says no number"),
        ({"id": "one"}, "line 2, id: ", "the number of a reading"),
        ({"corrects": "7"}, "line 2, corrects: ", "which is not in the file"),
        ({"corrects": "1"}, "line 2, corrects: ", "which is not in the file"),
        ({"because": "in doubt"}, "line 2, because: ", "withdrawn [UTC]"),
        ({"entered [UTC]": "yesterday"}, "line 2, entered [UTC]: ", "is no time"),
        ({"withdrawn [UTC]": "2026-01-18T00:00", "id": ""}, "line 2, id: ", "without a number"),
        ({"kind": "weight of it"}, "line 2, kind: ", "unknown kind"),
        ({"cylinder": "A\x1b"}, "line 2, cylinder: ", "control"),
    ],
)
def test_an_export_that_was_damaged_is_named_with_line_and_column(
    path: Path, changes: dict[str, str], place: str, words: str
) -> None:
    with pytest.raises(InputError) as caught:
        taken_in(path, export_of(**changes))
    assert place in str(caught.value)
    assert words in str(caught.value)
    assert history(path) == ()


@st.composite
def damaged(draw: st.DrawFn, text: str) -> str:
    """A text with a few characters dropped, doubled, changed or put in."""
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(text)))
        length = draw(st.integers(0, 5))
        new = draw(st.text(st.sampled_from('",\n\r;#[]-:.e019 kglb\x00é\u2028'), max_size=3))
        text = (
            text[:at] + new + text[at : at + length] * draw(st.integers(0, 2)) + text[at + length :]
        )
    return text


EXPORT = export_of() + (
    '2,2026-01-17T08:00:00-07:00,A,,gross weight,31 lb,14.06136347,kg,-4 degF,253.15,"a, b",'
    "2026-01-17T15:31:00+00:00,1,2026-01-17T16:31:00+00:00,in doubt\n"
    "3,2026-01-17T08:00:00,,furnace,lock-out,,,,,,,2026-01-17T15:32:00+00:00,,,\n"
)
NOTEBOOK = HEAD + GOOD_ROW + "2026-01-17T08:30, , outside temperature, -12 degC\n"


@settings(max_examples=300)
@given(st.one_of(damaged(EXPORT), damaged(NOTEBOOK), st.text(max_size=80)))
def test_a_damaged_file_is_taken_in_or_refused_as_a_whole(text: str) -> None:
    with folder_in_memory() as folder:
        path = folder / "trip.journal.sqlite"
        try:
            merged = taken_in(path, text)
        except InputError as error:
            assert error.file == "night.csv"  # noqa: PT017
            assert "\n" not in str(error)  # noqa: PT017
            assert history(path) == ()
            return
        assert len(history(path)) == len(merged.added)
        again = export_text(history(path))
        assert merge(path, NAME, rows(again), "again.csv").added == ()


def test_a_file_that_is_no_text_or_not_there_or_too_large_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "night.csv"
    with pytest.raises(InputError, match="cannot be read"):
        read_text(file)
    with pytest.raises(InputError, match="cannot be read"):
        read_text(tmp_path)
    file.write_bytes(b"time\n\xff\xfe\n")
    with pytest.raises(InputError, match=r"line 2: found a byte that is not UTF-8"):
        read_text(file)
    with file.open("wb") as large:
        large.truncate(LARGEST + 1)
    with pytest.raises(InputError, match="at most"):
        read_text(file)


def test_a_mark_at_the_beginning_of_a_file_is_no_part_of_it(tmp_path: Path) -> None:
    file = tmp_path / "night.csv"
    file.write_text(HEAD + GOOD_ROW, encoding="utf-8-sig")
    assert len(rows(read_text(file))) == 1


def test_an_export_is_written_over_an_older_one_and_over_nothing_else(
    path: Path, tmp_path: Path
) -> None:
    enter(path, NAME, seen())
    target = tmp_path / "out.csv"
    write_export(target, export_text(history(path)))
    enter(path, NAME, seen(1))
    write_export(target, export_text(history(path)))
    assert target.read_text() == export_text(history(path))
    target.write_text("mine")
    with pytest.raises(InputError, match="there is a file already"):
        write_export(target, export_text(history(path)))
    assert target.read_text() == "mine"
    assert {each.name for each in tmp_path.iterdir()} == {path.name, target.name}


def test_an_export_into_no_folder_is_one_message(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="the export cannot be written"):
        write_export(tmp_path / "no" / "out.csv", "x\n")


def test_the_units_of_an_export_are_those_of_the_kinds() -> None:
    assert {of.si for of in kinds().values()} == {"", "kg", "m", "K", "Pa", "s", "1"}
    assert all(of.dimension in dimensions() for of in kinds().values() if of.dimension)
