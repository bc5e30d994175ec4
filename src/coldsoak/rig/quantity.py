"""A quantity of the trip file: one value or a range, with the bounds that it must keep.

`Mass`, `Length`, ... in :mod:`coldsoak.rig.document` are pydantic types made by :func:`quantity`.
They accept text with a unit, a range of two such texts, or the word "unknown", and refuse the rest
with the reason.
"""

from dataclasses import dataclass
from typing import Any, NamedTuple

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from coldsoak.rig.units import UnitsError, allowed, dimensions, parse, shown, split, units_of

UNKNOWN = "unknown"
BETWEEN = ".."
WRITING = "writing"
"""Keyword under which a quantity's schema carries how it is written."""


class Quantity(NamedTuple):
    """A value in SI as two ends (equal for a plain value), and the texts that gave them.

    "unknown" has no ends yet: `low` and `high` are None and whoever reads it supplies them.
    """

    low: float | None
    high: float | None
    low_text: str
    high_text: str

    @property
    def is_uncertain(self) -> bool:
        """Whether it is a range or unknown."""
        return self.low is None or self.low != self.high


@dataclass(frozen=True)
class Measured:
    """The dimension, bounds and reason for the bounds of one kind of quantity; a pydantic marker.

    `low` and `high` are texts in people's units, or None for no bound.
    """

    dimension: str
    low: str | None = None
    high: str | None = None
    above: bool = False
    why: str = ""

    def read(self, text: object) -> Quantity:
        """The quantity that a TOML value stands for; raises PydanticCustomError if it is none."""
        if not isinstance(text, str):
            raise fault(_bare(text), allowed(self.dimension))
        if text.strip().lower() == UNKNOWN:
            return Quantity(None, None, UNKNOWN, UNKNOWN)
        ends = [self._end(part) for part in self._parts(text)]
        (low, low_text), (high, high_text) = sorted(ends)[0], sorted(ends)[-1]
        return Quantity(low, high, low_text, high_text)

    def _parts(self, text: str) -> list[str]:
        """One text, or the two ends of a range; an end without a unit takes the other's."""
        parts = [part.strip() for part in text.split(BETWEEN)]
        if len(parts) > 2 or not all(parts):
            raise fault(f"found {shown(text)}", self._range_hint())
        if len(parts) == 2:
            parts[0] = self._with_unit_of(parts[1], parts[0])
        return parts

    def _with_unit_of(self, other: str, text: str) -> str:
        try:
            has_unit, unit = split(text)[1], split(other)[1]
        except UnitsError:
            return text
        return text if has_unit else f"{text} {unit}"

    def _range_hint(self) -> str:
        example = dimensions()[self.dimension].example
        return f'write one value ("{example}"), a range of two with ".." between, or "{UNKNOWN}"'

    def _end(self, text: str) -> tuple[float, str]:
        """One value and its text, inside the bounds."""
        try:
            value = parse(text, self.dimension)
        except UnitsError as error:
            raise fault(error.found, error.allowed) from None
        self._keep_bounds(value, text)
        return value, text

    def _keep_bounds(self, value: float, text: str) -> None:
        too_low = self.low is not None and value < parse(self.low, self.dimension)
        at_low = self.above and self.low is not None and value <= parse(self.low, self.dimension)
        too_high = self.high is not None and value > parse(self.high, self.dimension)
        if too_low or at_low or too_high:
            raise fault(f"found {shown(text)}", self._bounds())

    def _bounds(self) -> str:
        """The sentence that names the bounds and why they are there."""
        first = f"{'more than' if self.above else 'at least'} {self.low}" if self.low else ""
        last = f"at most {self.high}" if self.high else ""
        bounds = " and ".join(part for part in (first, last) if part)
        return f"it must be {bounds}{f' ({self.why})' if self.why else ''}"

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        dim = dimensions()[self.dimension]
        bounds = (
            f" {self._bounds()[0].upper()}{self._bounds()[1:]}." if self.low or self.high else ""
        )
        units = units_of(self.dimension)
        article = "An" if dim.name[0] in "aeiou" else "A"
        return {
            "type": "string",
            "format": dim.name,
            "units": list(units),
            "examples": [dim.example, UNKNOWN],
            WRITING: (
                f"{article} {dim.name} with its unit ({', '.join(units)}), "
                f'a range of two with ".." between, or "{UNKNOWN}".{bounds}'
            ),
        }


def fault(found: str, allowed: str) -> PydanticCustomError:
    """A validation error that carries both halves of a message made for a person."""
    return PydanticCustomError(
        "coldsoak", "{found}; {allowed}", {"found": found, "allowed": allowed}
    )


def _bare(value: object) -> str:
    """How an error message shows a TOML value that is not text."""
    if isinstance(value, bool):
        return f"found {str(value).lower()}"
    if isinstance(value, int | float):
        return f"found the bare number {shown(value)[1:-1]}"
    return f"found {kind_of(value)}"


def kind_of(value: object) -> str:
    """A TOML value in words."""
    match value:
        case dict():
            return "a table"
        case list():
            return "a list"
        case str():
            return shown(value)
        case bool():
            return str(value).lower()
        case _:
            return shown(value)[1:-1]
