"""A journal as a CSV file, from which :mod:`coldsoak.ledger.intake` makes the same journal."""

import contextlib
import csv
import io
import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from coldsoak.errors import InputError
from coldsoak.ledger.columns import EXPORTED
from coldsoak.ledger.kinds import kinds
from coldsoak.ledger.moment import utc_text
from coldsoak.ledger.reading import Reading


def export_text(readings: Iterable[Reading]) -> str:
    """Every reading as a row, under a header that names the columns and their units.

    Words are in quotation marks and numbers are not; numbers are written so that they are read
    back without any change.
    """
    file = io.StringIO(newline="")
    writer = csv.writer(file, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\n")
    writer.writerow(EXPORTED)
    writer.writerows(_row(each) for each in readings)
    return file.getvalue()


def write_export(path: Path, text: str) -> None:
    """Write an export, over an older export but over no other file.

    The file is there as a whole or not at all. Raises InputError.
    """
    first = text.partition("\n")[0]
    unfinished = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        if path.exists() and not _starts_with(path, first):
            allowed = "only an older export is written over: name another file"
            raise InputError("there is a file already", allowed, file=str(path))
        with unfinished.open("x", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(unfinished, path)
    except OSError as error:
        with contextlib.suppress(OSError):
            unfinished.unlink(missing_ok=True)
        found = f"the export cannot be written: {error.strerror or error}"
        raise InputError(found, "name a file where you may write", file=str(path)) from error


def _starts_with(path: Path, first: str) -> bool:
    """Whether a file begins with a line."""
    wanted = first.encode()
    with path.open("rb") as file:
        return file.read(len(wanted)) == wanted


def _row(reading: Reading) -> tuple[Any, ...]:
    """The cells of one reading, in the order of :data:`EXPORTED`."""
    of = kinds().get(reading.kind)
    gone = reading.withdrawn
    return (
        reading.id,
        reading.time.isoformat(),
        reading.cylinder,
        reading.appliance,
        reading.kind,
        reading.written,
        reading.value,
        of.si if of else "",
        reading.temperature_written,
        reading.temperature,
        reading.note,
        utc_text(reading.entered),
        reading.corrects,
        utc_text(gone.entered) if gone else None,
        gone.because if gone else "",
    )
