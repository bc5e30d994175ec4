"""``coldsoak weigh``: a reading is kept in the journal, and answered with what it means."""

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from coldsoak.faces import options, readings, shown
from coldsoak.faces.jsontext import json_text
from coldsoak.faces.minus import TakesBelowZero, typed
from coldsoak.faces.progress import waiting
from coldsoak.faces.tripjournal import TripJournal, open_journal

if TYPE_CHECKING:
    from coldsoak.ledger.reading import Reading
    from coldsoak.ledger.weighed import Weighed
    from coldsoak.rig.trip import Cylinder

LONG_BEFORE = timedelta(days=60)
"""A reading so long before the start is perhaps of another year; common practice, no source."""

SLACK = timedelta(minutes=5)
"""How far two clocks may differ without a word; common practice, no source."""

SOON = timedelta(minutes=10)
"""Two equal readings so soon after each other are perhaps one; common practice, no source."""

FARTHEST = timedelta(hours=26)
"""Farthest apart that two local clocks of the world are."""


class Answer(NamedTuple):
    """What a person is told about a reading that was kept."""

    reading: "Reading"
    weighed: "Weighed | None"
    cylinder: "Cylinder | None"
    cautions: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


def answer(book: TripJournal, reading: "Reading", now: datetime) -> Answer:
    """What a reading means beside the others of the journal."""
    from coldsoak.ledger.observe import cylinder_of
    from coldsoak.ledger.weighed import WEIGHTS, weighed

    cylinder = cylinder_of(book.trip, reading.cylinder)
    meaning = None
    if cylinder is not None and reading.kind in WEIGHTS:
        others = [each for each in book.history if each.current and each.id != reading.corrects]
        meaning = weighed(reading, cylinder, others, book.trip.start)
    notes = (*book.warnings, *_time_notes(book, reading, now), *_twice_note(book, reading))
    if cylinder is not None and meaning is not None:
        notes = (*notes, *_weight_notes(reading, meaning, cylinder))
    return Answer(reading, meaning, cylinder, _cautions(reading, meaning), notes)


def _cautions(reading: "Reading", meaning: "Weighed | None") -> tuple[tuple[str, str], ...]:
    """What must be said with a reading."""
    from coldsoak.cautions import OVERFILL, Facts, cautions_for

    if meaning is not None and meaning.overfilled:
        return (("over-filled", OVERFILL),)
    facts = {"lock-out": Facts(locks_out=True), "cylinder changed": Facts(changes=True)}
    return cautions_for(facts.get(reading.kind, Facts()))


def _time_notes(book: TripJournal, reading: "Reading", now: datetime) -> list[str]:
    """What is odd about the time of a reading."""
    from coldsoak.ledger.moment import instant, place_offset

    trip, time = book.trip, reading.time
    start = trip.start.utcoffset()
    offset = place_offset([*book.history, reading], trip.start)
    notes = []
    if time.tzinfo is None:
        notes.append("The time is by the clock of the place; its UTC offset is not known.")
    slack = FARTHEST if time.tzinfo is None and start is None else SLACK
    if instant(time, offset) > now + slack:
        notes.append("This time is still to come: check the date and the clock.")
    begun = instant(trip.start, offset)
    if instant(time, offset) < begun - LONG_BEFORE:
        notes.append("This is more than two months before the start of the trip.")
    if instant(time, offset) > begun + timedelta(seconds=trip.length):
        notes.append("This is after the end of the trip.")
    return notes


def _twice_note(book: TripJournal, reading: "Reading") -> list[str]:
    """That a reading says the same as one of nearly the same time."""
    said, time = _said(reading), reading.time.replace(tzinfo=None)
    same = [
        each.id
        for each in book.history
        if each.current
        and each.id != reading.corrects
        and _said(each) == said
        and abs(each.time.replace(tzinfo=None) - time) <= SOON
    ]
    if not same:
        return []
    return [f"It says the same as reading {same[-1]}: if it was entered twice, withdraw one."]


def _said(reading: "Reading") -> tuple[object, ...]:
    """What a reading says, whenever it was."""
    return reading.cylinder, reading.appliance, reading.kind, reading.value, reading.written


def _weight_notes(reading: "Reading", meaning: "Weighed", cylinder: "Cylinder") -> list[str]:
    """What is odd about a weight."""
    from coldsoak.ledger.plausible import tolerance

    notes = []
    if reading.kind == "gross weight" and (reading.value or 0.0) < cylinder.tare:
        notes.append("It reads a little less than its tare: empty, as far as a scale can tell.")
    if meaning.used is not None and meaning.used < -tolerance() * cylinder.limit:
        notes.append(
            "There is more fuel than before. If it was refilled, enter that too (--kind "
            "refilled); if it was exchanged, the trip file needs the tare of the new one. "
            "Snow and ice on it weigh too."
        )
    return notes


def answer_object(book: TripJournal, told: Answer) -> dict[str, Any]:
    """The answer as JSON."""
    meaning = told.weighed
    return {
        "schema": "coldsoak.weigh/1",
        "trip": book.trip.name,
        "journal": str(book.path),
        "reading": readings.reading_object(told.reading),
        "contents_kg": meaning and meaning.contents,
        "limit_kg": meaning and meaning.limit,
        "overfilled": meaning and meaning.overfilled,
        "since": _since_object(meaning) if meaning else None,
        "cautions": [{"code": code, "text": text} for code, text in told.cautions],
        "notes": list(told.notes),
    }


def _since_object(meaning: "Weighed") -> dict[str, Any] | None:
    """What was used since the last weight, or since the start of the trip."""
    before = meaning.before
    if before is None or meaning.seconds is None:
        return None
    return {
        "reading": before.reading and before.reading.id,
        "time": before.time.isoformat(),
        "hours": meaning.seconds / 3600.0,
        "contents_kg": before.contents,
        "refilled_kg": before.added,
        "used_kg": meaning.used,
        "used_kg_per_day": meaning.per_day,
    }


def answer_lines(told: Answer, year: int, units: str) -> list[str]:
    """The answer in words."""
    reading = told.reading
    value = readings.value(reading, units)
    lines = [
        f"{readings.about(reading)}: {reading.kind}{f' {value}' if value else ''}, "
        f"{readings.moment(reading, year)} (reading {reading.id})"
    ]
    if told.weighed is not None and told.cylinder is not None:
        lines += _weighed_lines(reading, told.weighed, told.cylinder, units)
    return lines


def _weighed_lines(
    reading: "Reading", meaning: "Weighed", cylinder: "Cylinder", units: str
) -> list[str]:
    """What a weight means."""
    fuel = shown.mass(meaning.contents, units)
    how = ""
    if reading.kind == "gross weight":
        gross = shown.mass(reading.value or 0.0, units)
        how = f": {gross} less the tare of {shown.mass(cylinder.tare, units)}"
    limit = shown.mass(meaning.limit, units)
    lines = [f"{fuel} of fuel{how}"]
    share = f"{100.0 * meaning.contents / meaning.limit:.0f} % of the {limit} that may be in it"
    if meaning.overfilled:
        share = f"OVER-FILLED: at most {limit} may be in it"
    return [*lines, share, *_since_lines(meaning, units)]


def _since_lines(meaning: "Weighed", units: str) -> list[str]:
    """What was used since the last weight."""
    from coldsoak.faces import clock

    before = meaning.before
    if before is None or meaning.seconds is None:
        return []
    hours = clock.duration(meaning.seconds / 3600.0)
    when = f"{clock.moment(before.time)}, {hours} before"
    source = "" if before.reading else ", as the trip file says"
    if meaning.used is None:
        return [f"refilled since {when}: what was used cannot be told"]
    amount = shown.mass(abs(meaning.used), units)
    added = f" and {shown.mass(before.added, units)} put in" if before.added else ""
    word = "less" if meaning.used >= 0.0 else "more"
    line = f"{amount} {word} than at {when}{source}{added}"
    if meaning.per_day is not None:
        line += f": {shown.mass(meaning.per_day, units)} a day"
    return [line]


def print_answer(told: Answer, year: int, units: str) -> None:
    """Print the answer; a year is only named if it is another one."""
    from coldsoak.faces.paper import paper
    from coldsoak.faces.screen import bullets

    console = paper()
    for line in answer_lines(told, year, units):
        console.print(line)
    console.print(*bullets("Take care: ", [text for _, text in told.cautions]), sep="\n", end="")
    console.print(*bullets("Note: ", told.notes), sep="\n", end="")


def time_of(at: str | None, book: TripJournal, now: datetime) -> datetime:
    """When something was read: now, or as typed; raises InputError."""
    from coldsoak.ledger.moment import moment_of, read_moment

    start = book.trip.start
    return moment_of(now, start) if at is None else read_moment(at, start, now)


@click.command("weigh", cls=TakesBelowZero)
@options.trip
@click.argument("cylinder", metavar="CYLINDER")
@click.argument("value", metavar="[VALUE]", nargs=-1)
@click.option("--kind", default="gross weight", show_default=True, help="What was read.")
@click.option("--at", metavar="TIME", help="When it was; without it, now.")
@click.option("--temperature", default="", help="Of the cylinder or the air at that moment.")
@click.option("--note", default="", help="Anything else worth keeping.")
@options.as_json
@options.units
def command(
    trip: str,
    cylinder: str,
    value: tuple[str, ...],
    kind: str,
    at: str | None,
    temperature: str,
    note: str,
    as_json: bool,
    units: str,
) -> None:
    """Put a reading in the journal, and say what it means.

    TRIP is a trip file or the folder that holds trip.toml; VALUE is what was read, with its unit:
    coldsoak weigh TRIP A "31.2 lb" for what the scale reads under cylinder A.

    Kinds about a cylinder: gross weight, contents weight, liquid level, float gauge, liquid
    temperature, cylinder pressure, refilled, cylinder changed. About an appliance, which is named
    in place of the cylinder: burner hours, lock-out. About the rig, in place of the cylinder:
    inside temperature, outside temperature, battery charge. About any of them: failure, note;
    VALUE is then in words.

    TIME is "2026-01-17T07:30", with its UTC offset where it is known, or "07:30" for the last
    half past seven.
    """
    now = datetime.now().astimezone()
    with waiting("reading the trip"):
        book = open_journal(trip)
        from coldsoak.ledger.journal import enter
        from coldsoak.ledger.observe import observe

        words, time = typed(" ".join(value)), time_of(at, book, now)
        seen = observe(book.trip, book.names, kind, cylinder, words, time, typed(temperature), note)
    told = answer(book, enter(book.path, book.trip.name, seen), now)
    if as_json:
        click.echo(json_text(answer_object(book, told)))
    else:
        print_answer(told, book.trip.start.year, units)
