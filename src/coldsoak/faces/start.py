"""``coldsoak start``: a trip folder to edit, by a few questions or none."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from coldsoak.errors import InputError
from coldsoak.faces import options
from coldsoak.faces.jsontext import json_text
from coldsoak.faces.tripfile import TRIP_FILE

if TYPE_CHECKING:
    from coldsoak.rig.start import Answers


def new_trip_path(folder: str) -> Path:
    """Where the new trip file goes.

    Raises
    ------
    InputError
        There is a trip already, or the folder cannot be one.
    """
    path = Path(folder) / TRIP_FILE
    if path.exists():
        raise InputError("there is a trip already", "name another folder", file=str(path))
    if path.parent.exists() and not path.parent.is_dir():
        raise InputError("found a file", "name a folder", file=folder)
    return path


def ask() -> "Answers":
    """Ask the questions on standard error, each with its default.

    Raises
    ------
    InputError
        Standard input ends before the last answer.
    """
    from coldsoak.rig.start import QUESTIONS, Answers

    given: dict[str, Any] = {}
    try:
        for question in QUESTIONS:
            default = getattr(Answers(), question.field)
            given[question.field] = click.prompt(
                question.words, default=default, type=type(default), err=True
            )
    except click.Abort:
        if sys.stdin.isatty():
            raise
        raise InputError("the questions were not answered", "answer them, or use --yes") from None
    return Answers(**given)


def write_new(path: Path, text: str) -> None:
    """Write a file that does not exist yet, with its folder.

    Raises
    ------
    InputError
        It exists, or it cannot be written there.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except OSError as error:
        raise InputError(
            f"the trip file cannot be written: {error.strerror}",
            "name a new folder where you may write",
            file=str(path),
        ) from error


@click.command("start")
@click.argument("folder", metavar="DIR", type=click.Path())
@click.option("--yes", "-y", is_flag=True, help="Ask nothing; take the invented example.")
@options.as_json
def command(folder: str, yes: bool, as_json: bool) -> None:
    """A trip folder to edit, by a few questions or none.

    Writes DIR/trip.toml and never over a trip that is there. Answer with units, such as
    "18 lb" or "-22 degC"; an empty answer takes the default.
    """
    path = new_trip_path(folder)
    from coldsoak.rig.start import Answers, trip_text

    write_new(path, trip_text(Answers() if yes else ask()))
    if as_json:
        click.echo(json_text({"schema": "coldsoak.start/1", "trip": str(path)}))
    else:
        click.echo(f"wrote {path}; edit it, then: coldsoak plan {folder}")
