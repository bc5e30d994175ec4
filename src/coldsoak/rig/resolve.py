"""How one key of the trip file becomes one SI number: given, ranged, unknown or missing.

A :class:`Section` is one table of the document with its place in the file. Reading a value through
it records what has to be told later: a missing key becomes an :class:`Assumption` with its source,
a range or "unknown" becomes an :class:`Uncertain` input and is taken at the asked level.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import PydanticCustomError

from coldsoak.errors import TripError
from coldsoak.rig.catalogue import Sourced, default
from coldsoak.rig.quantity import Measured, Quantity
from coldsoak.rig.source import Source, key_text
from coldsoak.rig.tomlfile import Key
from coldsoak.rig.trip import Assumption, Level, Uncertain
from coldsoak.rig.units import show


@dataclass
class Record:
    """What resolving one trip leaves behind, and the levels its uncertain inputs are taken at."""

    source: Source
    levels: Mapping[str, Level]
    assumptions: list[Assumption] = field(default_factory=list)
    uncertain: list[Uncertain] = field(default_factory=list)
    unused: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    def assume(self, key: Key, value: str, source: str) -> None:
        """Record a value that the file did not give."""
        text = key_text(self.source.toml.data, key)
        self.assumptions.append(Assumption(text, value, source))

    def note(self, text: str) -> None:
        """Record a sentence for the plan's notes, once."""
        if text not in self.remarks:
            self.remarks.append(text)

    def ignore(self, key: Key, what: str = "") -> None:
        """Record a given key (or what of it) that has no effect in this version."""
        self.unused.append(f"{key_text(self.source.toml.data, key)}{what}")

    def notes(self) -> tuple[str, ...]:
        """All remarks, and one more that names the keys without effect."""
        if not self.unused:
            return tuple(self.remarks)
        return (*self.remarks, f"Given, but not used by this version: {', '.join(self.unused)}.")

    def between(self, key: Key, low: float, high: float, texts: tuple[str, str]) -> float:
        """The value of an uncertain input at its level; the middle if none is asked for."""
        text = key_text(self.source.toml.data, key)
        self.uncertain.append(Uncertain(text, *texts))
        match self.levels.get(text, "middle"):
            case "low":
                return low
            case "high":
                return high
            case _:
                return (low + high) / 2


@dataclass(frozen=True)
class Section:
    """One table of the document: its model (None if the file leaves it out) and its key."""

    record: Record
    kind: type[BaseModel]
    model: BaseModel | None
    key: Key

    def given(self, name: str) -> Any:
        """What the file says, or None."""
        return getattr(self.model, name) if self.model is not None else None

    def ignore_given(self, *names: str) -> None:
        """Record those of the keys that the file gives as having no effect."""
        for name in names:
            if self.given(name) is not None:
                self.record.ignore(self.at(name))

    def at(self, name: str) -> Key:
        """The key of an entry as it stands in the file."""
        return (*self.key, self.kind.model_fields[name].alias or name)

    def error(
        self, name: str, found: str, allowed: str, kind: type[TripError] = TripError
    ) -> TripError:
        """An error about one entry."""
        return self.record.source.error(self.at(name), found, allowed, kind)

    def number(
        self, name: str, fallback: Sourced | None = None, ends: tuple[float, float] | None = None
    ) -> float:
        """One quantity in SI.

        A missing key takes `fallback`; "unknown" means the range `ends` [SI] or, without it, the
        fallback's own. Raises TripError if there is neither.
        """
        quantity = self.given(name)
        if quantity is None:
            if fallback is None or fallback.value is None:
                raise self.error(name, f"the key {name} is missing", "give it")
            return self.assumed(name, fallback)
        return self.settled(self.at(name), measured(self.kind, name), quantity, fallback, ends)

    def assumed(self, name: str, fallback: Sourced) -> float:
        """The fallback's value, recorded as an assumption.

        Raises TripError if it was computed from other keys and comes out beyond its bounds.
        """
        self.record.assume(self.at(name), str(fallback.value), fallback.source)
        try:
            low = measured(self.kind, name).read(fallback.value).low
        except PydanticCustomError as beyond:
            allowed = (beyond.context or {})["allowed"]
            found = f"not given, and comes out as {fallback.value} from the other keys"
            raise self.error(name, found, allowed) from None
        assert low is not None, "a default is a number"
        return low

    def settled(
        self,
        key: Key,
        measure: Measured,
        quantity: Quantity,
        fallback: Sourced | None = None,
        ends: tuple[float, float] | None = None,
    ) -> float:
        """The SI number of a quantity that the file gives."""
        if quantity.low is not None and quantity.high is not None:
            if not quantity.is_uncertain:
                return quantity.low
            texts = (quantity.low_text, quantity.high_text)
            return self.record.between(key, quantity.low, quantity.high, texts)
        return self._unknown(key, measure, fallback, ends)

    def _unknown(
        self,
        key: Key,
        measure: Measured,
        fallback: Sourced | None,
        ends: tuple[float, float] | None,
    ) -> float:
        """The value of an input that the file calls unknown."""
        if ends is not None:
            texts = (show(ends[0], measure.dimension), show(ends[1], measure.dimension))
            return self.record.between(key, *ends, texts)
        if fallback is None or fallback.unknown is None:
            raise self.record.source.error(
                key, 'found "unknown"', 'too much depends on it: give a value or a range "a .. b"'
            )
        low, high = (measure.read(text).low for text in fallback.unknown)
        assert low is not None
        assert high is not None
        return self.record.between(key, low, high, fallback.unknown)

    def by_default(self, name: str) -> float:
        """A quantity whose default stands in ``catalogue/defaults.toml``."""
        return self.number(name, default(f"{self._table()}.{name}"))

    def word(self, name: str, fallback: Sourced | None = None) -> Any:
        """A word, count or yes/no: as given, or the fallback recorded as an assumption."""
        value = self.given(name)
        if value is not None:
            return value
        entry = fallback or default(f"{self._table()}.{name}")
        self.record.assume(self.at(name), plain_word(entry.value), entry.source)
        return entry.value

    def _table(self) -> str:
        return self.kind.__name__.removesuffix("Table").lower()


def plain_word(value: object) -> str:
    """A word, count or yes/no as people read it."""
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)


@cache
def measured(kind: type[BaseModel], name: str) -> Measured:
    """The dimension and bounds of a quantity of a model."""
    found = _marker(kind.model_fields[name])
    if found is None:
        raise LookupError(f"{kind.__name__}.{name} is not a quantity")
    return found


def _marker(part: Any) -> Measured | None:
    """The Measured marker anywhere in a field or an annotation."""
    if isinstance(part, Measured):
        return part
    inner = (*part.metadata, part.annotation) if isinstance(part, FieldInfo) else _parts(part)
    return next((found for each in inner if (found := _marker(each)) is not None), None)


def _parts(annotation: Any) -> tuple[Any, ...]:
    return (*get_args(annotation), *getattr(annotation, "__metadata__", ()))
