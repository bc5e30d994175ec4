"""``coldsoak journal``: the readings of a trip shown, corrected, withdrawn, taken in and out."""

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from coldsoak.errors import InputError
from coldsoak.faces import options, readings
from coldsoak.faces.jsontext import json_text
from coldsoak.faces.minus import TakesBelowZero, typed
from coldsoak.faces.progress import waiting
from coldsoak.faces.tripjournal import TripJournal, open_journal
from coldsoak.faces.weigh import answer, answer_object, print_answer, time_of

if TYPE_CHECKING:
    from rich.table import Table

    from coldsoak.ledger.merge import Merged
    from coldsoak.ledger.reading import Reading

STANDARD_OUTPUT = "-"

LOCAL = "Times without an offset are by the clock of the place; UTC offset not known."

FEW = 5
"""Most known lines of an import that are printed one by one."""


def journal_object(book: TripJournal) -> dict[str, Any]:
    """Every reading as JSON, in the order of their times."""
    from coldsoak.ledger.journal import in_order

    return {
        "schema": "coldsoak.journal/1",
        "trip": book.trip.name,
        "journal": str(book.path),
        "readings": [readings.reading_object(each) for each in in_order(book.history)],
        "notes": list(book.warnings),
    }


def row_of(reading: "Reading", year: int, units: str) -> list[str]:
    """One reading as cells of the table."""
    return [
        str(reading.id),
        readings.moment(reading, year),
        readings.about(reading),
        reading.kind,
        readings.value(reading, units),
        "; ".join(readings.remarks(reading, units)),
    ]


def table_of(book: TripJournal, units: str) -> "Table":
    """Every reading as a row, in the order of their times."""
    from rich.table import Table

    from coldsoak.faces.paper import SLATE
    from coldsoak.ledger.journal import in_order

    table = Table(box=None, padding=(0, 1, 0, 0), pad_edge=False, header_style=SLATE)
    table.add_column("no.", justify="right", no_wrap=True)
    table.add_column("when", no_wrap=True)
    for name in ("of", "kind", "reading", ""):
        table.add_column(name, overflow="fold")
    for each in in_order(book.history):
        cells = row_of(each, book.trip.start.year, units)
        table.add_row(*cells, style="" if each.current else SLATE)
    return table


def print_journal(book: TripJournal, units: str) -> None:
    """Print every reading; one that does not count any more says so."""
    from coldsoak.faces.paper import SLATE, paper

    console = paper()
    console.print(book.trip.name, style="bold")
    for warning in book.warnings:
        console.print(warning)
    if not book.history:
        console.print('No readings yet: coldsoak weigh TRIP CYLINDER "31.2 lb" enters the first.')
        return
    console.print(table_of(book, units))
    if any(each.time.tzinfo is None for each in book.history):
        console.print(LOCAL, style=SLATE)


def correct(
    book: TripJournal, id: int, value: str, at: str | None, note: str, as_json: bool, units: str
) -> None:
    """Keep a new value in the place of a reading, and say what it means."""
    from coldsoak.ledger import journal
    from coldsoak.ledger.observe import observe

    old, now = _found(book, id), datetime.now().astimezone()
    seen = observe(
        book.trip,
        book.names,
        old.kind,
        old.cylinder or old.appliance or "",
        value,
        old.time if at is None else time_of(at, book, now),
        old.temperature_written,
        note or old.note,
    )
    told = answer(book, journal.correct(book.path, book.trip.name, id, seen), now)
    if as_json:
        click.echo(json_text(answer_object(book, told)))
        return
    print_answer(told, book.trip.start.year, units)
    click.echo(f"it takes the place of reading {id} ({readings.value(old, units)}), which is kept")


def withdraw(book: TripJournal, id: int, because: str, as_json: bool) -> None:
    """Let a reading count no more."""
    from coldsoak.ledger import journal
    from coldsoak.ledger.kinds import read_words

    reason = read_words(because)
    if not reason:
        raise InputError("--withdraw without a reason", 'say why: --because "the wrong cylinder"')
    gone = journal.withdraw(book.path, book.trip.name, id, reason)
    if as_json:
        reading = readings.reading_object(gone)
        click.echo(json_text({"schema": "coldsoak.withdrawn/1", "reading": reading}))
    else:
        click.echo(f"reading {id} does not count any more and is kept: {reason}")


def take_in(book: TripJournal, file: str, as_json: bool) -> None:
    """Put the readings of a CSV file into the journal."""
    from coldsoak.ledger.intake import read_rows, read_text
    from coldsoak.ledger.merge import merge

    rows = read_rows(read_text(Path(file)), file, book.trip, book.names)
    merged = merge(book.path, book.trip.name, rows, file)
    if as_json:
        click.echo(json_text(_merged_object(merged, file)))
    else:
        print_merged(merged)


def _merged_object(merged: "Merged", file: str) -> dict[str, Any]:
    return {
        "schema": "coldsoak.import/1",
        "file": file,
        "added": list(merged.added),
        "known": [{"line": known.line, "id": known.id} for known in merged.known],
        "withdrawn": list(merged.withdrawn),
    }


def print_merged(merged: "Merged") -> None:
    """Say what an import did."""
    count = len(merged.added)
    click.echo(f"{count} new reading{'s' * (count != 1)}{_numbers(merged.added)}")
    if len(merged.known) > FEW:
        click.echo(f"{len(merged.known)} readings were known and were not entered again")
    else:
        for known in merged.known:
            click.echo(f"line {known.line} is reading {known.id} and was not entered again")
    for id in merged.withdrawn:
        click.echo(f"reading {id} does not count any more, as in the file")


def _numbers(ids: tuple[int, ...]) -> str:
    """The numbers of some readings, in brackets.

    >>> _numbers((3, 4, 5)), _numbers((7,)), _numbers(())
    (' (3 to 5)', ' (7)', '')
    """
    if not ids:
        return ""
    return f" ({ids[0]})" if len(ids) == 1 else f" ({ids[0]} to {ids[-1]})"


def take_out(book: TripJournal, file: str, as_json: bool) -> None:
    """Write every reading into a CSV file, or to standard output."""
    from coldsoak.ledger.export import export_text, write_export

    text = export_text(book.history)
    if file == STANDARD_OUTPUT:
        click.echo(text, nl=False)
        return
    write_export(Path(file), text)
    count = len(book.history)
    if as_json:
        click.echo(json_text({"schema": "coldsoak.export/1", "file": file, "readings": count}))
    else:
        click.echo(f"wrote {count} reading{'s' * (count != 1)} to {file}")


def adopt(book: TripJournal, as_json: bool) -> None:
    """Let the journal be that of a trip whose name has changed."""
    from coldsoak.ledger import journal

    journal.adopt(book.path, book.trip.name)
    if as_json:
        click.echo(json_text({"schema": "coldsoak.adopted/1", "trip": book.trip.name}))
    else:
        click.echo(f"{book.path.name} is the journal of {book.trip.name} from now on")


def warn(book: TripJournal) -> None:
    """Say on standard error what is odd about trip and journal, where the answer has no room."""
    for warning in book.warnings:
        click.echo(f"coldsoak: {warning}", err=True)


def _found(book: TripJournal, id: int) -> "Reading":
    """A reading by its number; the refusal of one that does not exist comes from the journal."""
    found = [each for each in book.history if each.id == id]
    if found:
        return found[0]
    highest = f"there are readings 1 to {len(book.history)}"
    raise InputError(
        f"there is no reading {id}", highest if book.history else "the journal has no reading yet"
    )


def require_one_wish(wishes: dict[str, object]) -> None:
    """Refuse a command line that wants several things at once."""
    given = [name for name, wish in wishes.items() if wish not in (None, False)]
    if len(given) > 1:
        raise click.UsageError(f"{given[0]} and {given[1]} are two things: do one after the other")


def require_belonging(name: str, given: object, owner: str, wish: object) -> None:
    """Refuse an option whose other option is not there."""
    if given not in (None, "") and wish is None:
        raise click.UsageError(f"{name} belongs to {owner}")


@click.command("journal", cls=TakesBelowZero)
@options.trip
@click.option(
    "--correct",
    "correction",
    nargs=2,
    type=(int, str),
    metavar="ID VALUE",
    help="A new value in the place of a reading, which is kept.",
)
@click.option("--at", metavar="TIME", help="With --correct: its time was another one.")
@click.option("--note", default="", help="With --correct: a new note.")
@click.option(
    "--withdraw",
    "withdrawal",
    type=int,
    metavar="ID",
    help="A reading counts no more, and is kept.",
)
@click.option("--because", default="", metavar="TEXT", help="With --withdraw: the reason.")
@click.option(
    "--import",
    "source",
    type=click.Path(),
    metavar="FILE",
    help="Take in the readings of a CSV file, each once.",
)
@click.option(
    "--export",
    "target",
    type=click.Path(),
    metavar="FILE",
    help="Write every reading as CSV; - is standard output.",
)
@click.option("--adopt", "adopted", is_flag=True, help="It is this trip's, under its new name.")
@options.as_json
@options.units
def command(
    trip: str,
    correction: tuple[int, str] | None,
    at: str | None,
    note: str,
    withdrawal: int | None,
    because: str,
    source: str | None,
    target: str | None,
    adopted: bool,
    as_json: bool,
    units: str,
) -> None:
    """The readings of a trip: show, correct, withdraw, import, export.

    TRIP is a trip file or the folder that holds trip.toml; its journal lies beside it. Nothing is
    ever deleted: a corrected or withdrawn reading stays in sight and does not count.

    A CSV file to import has a header such as "time, cylinder, kind, reading", or "time, cylinder,
    gross weight [lb]"; an export is taken in as it is.
    """
    require_one_wish(
        {
            "--correct": correction,
            "--withdraw": withdrawal,
            "--import": source,
            "--export": target,
            "--adopt": adopted,
        }
    )
    require_belonging("--at", at, "--correct", correction)
    require_belonging("--note", note, "--correct", correction)
    require_belonging("--because", because, "--withdraw", withdrawal)
    if target == STANDARD_OUTPUT and as_json:
        raise click.UsageError("--export - writes CSV: leave --json out")
    with waiting("reading the trip"):
        book = open_journal(trip)
    if withdrawal is not None or source is not None or target is not None:
        warn(book)
    if correction is not None:
        id, value = correction
        correct(book, id, typed(value), at, note, as_json, units)
    elif withdrawal is not None:
        withdraw(book, withdrawal, because, as_json)
    elif source is not None:
        take_in(book, source, as_json)
    elif target is not None:
        take_out(book, target, as_json)
    elif adopted:
        adopt(book, as_json)
    elif as_json:
        click.echo(json_text(journal_object(book)))
    else:
        print_journal(book, units)
