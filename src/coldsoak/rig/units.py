"""People's units in and out: one text such as "18.5 lb" to one SI number, and back.

Inside the code every number is SI (kg, m, m2, m3, K, Pa, W, s, J/K, shares of 1). Which unit words
may stand for which kind of quantity is data (``data/dimensions.toml``); what they are worth is
computed by pint from ``data/units.txt``. pint takes 0.2 s to import, so it is loaded at the first
conversion and never on the way to ``--help``.

Pressures that people give are gauge pressures, read against the local station pressure.
"""

import math
import re
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple

NUMBER = re.compile(r"[+-]?(?:\d{1,30}(?:\.\d{0,30})?|\.\d{1,30})(?:[eE][+-]?\d{1,3})?")
NOT_FINITE = re.compile(r"[+-]?(?:nan|inf)", re.IGNORECASE)
STANDARD_SPELLING = str.maketrans({"−": "-", "–": "-", "°": "deg", "º": "deg", "²": "2", "³": "3"})
SPREAD = 1024.0  # a power of two, so that the factor of a unit without offset is not rounded
SYSTEMS = {"us": "us", "si": "si_face"}


class UnitsError(ValueError):
    """A text is not a quantity of the wanted dimension; says what it is and what is allowed."""

    def __init__(self, found: str, allowed: str) -> None:
        self.found = found
        self.allowed = allowed
        super().__init__(f"{found}; {allowed}")


class Dimension(NamedTuple):
    """One kind of quantity: its SI unit, its spellings and what the faces print."""

    name: str
    si: str
    example: str
    spellings: dict[str, str]
    faces: dict[str, tuple[str, int]]


class Scale(NamedTuple):
    """SI value = factor x number + offset."""

    factor: float
    offset: float


@cache
def dimensions() -> dict[str, Dimension]:
    """All dimensions, by name, as ``data/dimensions.toml`` lists them."""
    text = (files("coldsoak.rig") / "data/dimensions.toml").read_text("utf-8")
    return {
        name: Dimension(
            name=name.replace("_", " "),
            si=entry["si"],
            example=entry["example"],
            spellings=entry["spellings"],
            faces={us: tuple(entry[key]) for us, key in SYSTEMS.items()},
        )
        for name, entry in tomllib.loads(text).items()
    }


@cache
def _registry() -> Any:
    """The pint registry of ``data/units.txt``."""
    import pint

    registry: Any = pint.UnitRegistry(None, cache_folder=None)
    definitions = (files("coldsoak.rig") / "data/units.txt").read_text("utf-8")
    registry.load_definitions(definitions.splitlines())
    return registry


@cache
def scale(unit: str, dimension: str) -> Scale:
    """What one spelling is worth in the SI unit of its dimension.

    Units with an offset (degC, degF) are converted as temperatures on a scale in the dimension
    "temperature" and as intervals in "temperature_difference".

    >>> scale("lb", "mass").factor
    0.45359237
    >>> scale("degF", "temperature_difference").offset
    0.0
    """
    dim = dimensions()[dimension]
    registry = _registry()
    wanted = registry.parse_units(dim.si) if dim.si != "one" else registry.dimensionless
    registered = registry.parse_units(dim.spellings[unit])
    low, high = (
        float(registry.Quantity(number, registered).to(wanted).magnitude)
        for number in (0.0, SPREAD)
    )
    return Scale((high - low) / SPREAD, low)


def split(text: str) -> tuple[float, str]:
    """The number and the unit word of a text such as "-20 degC".

    Raises UnitsError if the text does not start with one finite decimal number.

    >>> split("−20 °C")
    (-20.0, 'degC')
    """
    plain = text.strip().translate(STANDARD_SPELLING)
    match = NUMBER.match(plain)
    if NOT_FINITE.match(plain):
        raise UnitsError(f"found {shown(text)}", "the number must be finite")
    if match is None:
        raise UnitsError(f"found {shown(text)}", "give a number and a unit")
    if plain[match.end() : match.end() + 1] in (",", ".", "e", "E") and plain[match.end() :]:
        raise UnitsError(f"found {shown(text)}", 'write the number plainly, such as "1500.5"')
    number = float(match.group())
    if not math.isfinite(number):
        raise UnitsError(f"found {shown(text)}", "the number must be finite")
    return number, re.sub(r"\s+", " ", plain[match.end() :].strip())


def parse(text: str, dimension: str) -> float:
    """One quantity as its SI number.

    Pressures come back as gauge pressure [Pa], shares as fractions of 1.

    Raises UnitsError for a missing, unknown or wrong unit.

    >>> round(parse("20 lb", "mass"), 6)
    9.071847
    >>> round(parse("-4 degF", "temperature"), 2)
    253.15
    >>> parse("9 degF", "temperature_difference")
    5.0
    >>> round(parse("11 inWC", "gauge_pressure"), 1)
    2739.9
    """
    number, unit = split(text)
    dim = dimensions()[dimension]
    if unit not in dim.spellings:
        raise UnitsError(_wrong_unit(text, unit, dim), allowed(dimension))
    factor, offset = scale(unit, dimension)
    value = number * factor + offset
    if not math.isfinite(value):
        raise UnitsError(f"found {shown(text)}", "the number must be finite")
    return value


def _wrong_unit(text: str, unit: str, wanted: Dimension) -> str:
    """Why a unit cannot stand here: none given, absolute pressure, another dimension, unknown."""
    if not unit:
        return f"found {shown(text)} without a unit"
    if unit in ("psia", "kPa abs", "bar abs"):
        return f"found {shown(text)}, an absolute pressure, where a gauge pressure is needed"
    other = [dim.name for dim in dimensions().values() if unit in dim.spellings]
    if other:
        article = "an" if other[0][0] in "aeiou" else "a"
        return f"found {shown(text)}, {article} {other[0]}, where {wanted.name} is needed"
    return f"found {shown(text)} with the unknown unit {shown(unit)}"


def allowed(dimension: str) -> str:
    """The sentence of an error message that says how a quantity is written."""
    dim = dimensions()[dimension]
    return f'write {dim.name} as "{dim.example}" (units: {", ".join(units_of(dimension))})'


def units_of(dimension: str) -> tuple[str, ...]:
    """The spellings to offer: one for each unit, in the order of the data file."""
    first: dict[str, str] = {}
    for spelling, meaning in dimensions()[dimension].spellings.items():
        first.setdefault(meaning, spelling)
    return tuple(first.values())


def shown(text: object) -> str:
    """A text in quotation marks, cut if it is long, for an error message."""
    plain = str(text).encode("unicode_escape", "replace").decode("ascii", "replace")
    plain = str(text) if str(text).isprintable() else plain
    return f'"{plain}"' if len(plain) <= 60 else f'"{plain[:57]}..."'


def show(value: float, dimension: str, system: str = "si") -> str:
    """An SI number as people of one unit system read it.

    `system` is "us" or "si". The number of decimals is that of ``data/dimensions.toml``.

    >>> show(9.0718474, "mass", "us"), show(253.15, "temperature", "us")
    ('20.0 lb', '-4.0 degF')
    """
    unit, decimals = dimensions()[dimension].faces[system]
    factor, offset = scale(unit, dimension)
    number = round((value - offset) / factor, decimals) + 0.0
    return f"{number:.{decimals}f} {unit}"


def gauge(absolute_pressure: float, station_pressure: float) -> float:
    """Gauge pressure [Pa] of an absolute pressure [Pa] at a station pressure [Pa]."""
    return absolute_pressure - station_pressure


def absolute(gauge_pressure: float, station_pressure: float) -> float:
    """Absolute pressure [Pa] of a gauge pressure [Pa] at a station pressure [Pa]."""
    return gauge_pressure + station_pressure
