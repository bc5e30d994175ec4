"""The kinds of readings, as data with their dimensions and believed ranges (``kinds.toml``)."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any, Final, Literal, NamedTuple

from coldsoak.errors import InputError
from coldsoak.rig.catalogue import nearest, plain
from coldsoak.rig.units import dimensions, shown

About = Literal["cylinder", "appliance", "rig", "anything"]

LONGEST: Final = 2000
"""Most characters of words, notes and reasons."""


class Kind(NamedTuple):
    """One kind of reading.

    name, aliases : how it is called
    about : what it is about
    dimension : of its value, None for an event in words
    low, high, above, why : believed range as texts, and whether low itself is out
    optional : whether it may stand without its value
    needs_words : whether the event says nothing without words
    meaning : for people
    """

    name: str
    aliases: tuple[str, ...]
    about: About
    meaning: str
    dimension: str | None = None
    low: str | None = None
    high: str | None = None
    above: bool = False
    why: str = ""
    optional: bool = False
    needs_words: bool = False

    @property
    def si(self) -> str:
        """Symbol of the SI unit of its value, "" for an event.

        >>> kind("gross weight").si, kind("float gauge").si, kind("note").si
        ('kg', '1', '')
        """
        return SYMBOLS[dimensions()[self.dimension].si] if self.dimension else ""


SYMBOLS: Final = {
    "kilogram": "kg",
    "meter": "m",
    "kelvin": "K",
    "pascal": "Pa",
    "second": "s",
    "one": "1",
}


class Value(NamedTuple):
    """A value in SI (None for an event) and the text that gave it."""

    si: float | None
    written: str


@cache
def kinds() -> dict[str, Kind]:
    """All kinds by name, in the order in which they are listed."""
    return {row["name"]: _kind(row) for row in _load()["kind"]}


@cache
def below_tare() -> float:
    """How far below the tare an empty cylinder may read, as a share of the tare."""
    return float(_load()["scale"]["below_tare"])


def kind(name: str) -> Kind:
    """The kind of a name or alias, however it is spaced and capitalized.

    Raises InputError that names the nearest kind and all of them.

    >>> kind("Lockout").name
    'lock-out'
    """
    known = {plain(word): each for each in kinds().values() for word in (each.name, *each.aliases)}
    if plain(name) in known:
        return known[plain(name)]
    close = nearest(name, list(known))
    hint = f'did you mean "{known[close].name}"? ' if close else ""
    allowed = f"{hint}kinds: {', '.join(kinds())}"
    raise InputError(f"unknown kind {shown(name)}", allowed)


def read_value(of: Kind, text: str) -> Value:
    """The value, or the words, of one reading.

    Raises InputError for a value without a unit, with a wrong one, out of its range, or missing,
    and for an event that says nothing.
    """
    written = read_words(text)
    if of.dimension is None:
        if of.needs_words and not written:
            raise InputError(f"found a {of.name} without words", "say what it was")
        return Value(None, written)
    if of.optional and not written:
        return Value(None, "")
    return Value(_measured(of, written), written)


def read_temperature(text: str) -> Value:
    """The temperature that goes with a reading [K]; an empty text is none.

    Raises InputError as :func:`read_value`.
    """
    written = read_words(text)
    return Value(_measured(kind("outside temperature"), written) if written else None, written)


def read_words(text: str) -> str:
    """Words as they are kept: without spaces around, lines ended by one sign.

    Raises InputError for more than :data:`LONGEST` characters, and for control characters.
    """
    words = text.replace("\r\n", "\n").replace("\r", "\n").strip()
    if len(words) > LONGEST:
        found = f"found {len(words)} characters"
        raise InputError(found, f"at most {LONGEST} characters are kept")
    if any(_unwritable(character) for character in words):
        raise InputError(f"found {shown(words)}", "leave control characters out")
    return words


def _unwritable(character: str) -> bool:
    """Whether a character belongs in no text: a control character or half a character."""
    control = ord(character) < 32 and character not in "\n\t"
    return control or 0x7F <= ord(character) < 0xA0 or 0xD800 <= ord(character) < 0xE000


def _measured(of: Kind, written: str) -> float:
    """One value in SI inside its range; a reading is what was read, never a range."""
    from pydantic_core import PydanticCustomError

    from coldsoak.rig.quantity import BETWEEN, UNKNOWN, Measured

    assert of.dimension is not None
    if not written or BETWEEN in written or written.lower() == UNKNOWN:
        raise InputError(f"found {shown(written)}", _one_value(of.dimension))
    try:
        quantity = Measured(of.dimension, of.low, of.high, of.above, of.why).read(written)
    except PydanticCustomError as error:
        context = error.context or {}
        raise InputError(context["found"], f"{of.name}: {context['allowed']}") from None
    assert quantity.low is not None, "only unknown has no value"
    return quantity.low


def _one_value(dimension: str) -> str:
    example = dimensions()[dimension].example
    return f'a reading is one value with its unit, such as "{example}"; doubts go into the note'


def _kind(row: dict[str, Any]) -> Kind:
    return Kind(**row | {"aliases": tuple(row["aliases"])})


@cache
def _load() -> dict[str, Any]:
    return tomllib.loads((files("coldsoak.ledger") / "kinds.toml").read_text("utf-8"))
