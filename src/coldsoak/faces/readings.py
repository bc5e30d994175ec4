"""A reading of the journal as JSON and as people read it."""

from typing import TYPE_CHECKING, Any

from coldsoak.faces import clock, shown

if TYPE_CHECKING:
    from coldsoak.ledger.reading import Reading


def reading_object(reading: "Reading") -> dict[str, Any]:
    """A reading as JSON; values are in the SI unit named beside them."""
    from coldsoak.ledger.kinds import kinds
    from coldsoak.ledger.moment import utc_text

    of, gone = kinds().get(reading.kind), reading.withdrawn
    return {
        "id": reading.id,
        "time": reading.time.isoformat(),
        "utc_offset_known": reading.time.tzinfo is not None,
        "cylinder": reading.cylinder,
        "appliance": reading.appliance,
        "kind": reading.kind,
        "value": reading.value,
        "unit": of.si if of is not None and of.si else None,
        "written": reading.written,
        "temperature_K": reading.temperature,
        "temperature_written": reading.temperature_written,
        "note": reading.note,
        "entered": utc_text(reading.entered),
        "corrects": reading.corrects,
        "corrected_by": reading.corrected_by,
        "withdrawn": gone and {"because": gone.because, "entered": utc_text(gone.entered)},
        "current": reading.current,
    }


def about(reading: "Reading") -> str:
    """What a reading is about."""
    return reading.cylinder or reading.appliance or "rig"


def value(reading: "Reading", units: str) -> str:
    """The value in the units that are shown, or the words of an event."""
    if reading.value is None:
        return reading.written
    return _plain(shown.restated(reading.written, units))


def temperature(reading: "Reading", units: str) -> str:
    """The temperature that goes with a reading, "" if there is none."""
    return _plain(shown.restated(reading.temperature_written, units))


def moment(reading: "Reading", year: int) -> str:
    """When it was, with the UTC offset where that is known, and the year if it is not `year`."""
    time, offset = reading.time, reading.time.strftime("%z")
    known = f" {offset[:3]}:{offset[3:5]}" if offset else ""
    return (f"{time.year} " if time.year != year else "") + clock.moment(time) + known


def remarks(reading: "Reading", units: str) -> list[str]:
    """What else there is to say about a reading."""
    words = []
    if reading.temperature is not None:
        words.append(f"at {temperature(reading, units)}")
    if reading.corrects is not None:
        words.append(f"corrects {reading.corrects}")
    if reading.corrected_by is not None:
        words.append(f"corrected by {reading.corrected_by}")
    if reading.withdrawn is not None:
        words.append(f"withdrawn: {reading.withdrawn.because}")
    if reading.note:
        words.append(reading.note)
    return words


def _plain(text: str) -> str:
    """Degrees as people write them."""
    return text.replace("degC", "°C").replace("degF", "°F")
