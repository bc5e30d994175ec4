"""Generic hardware and defaults, as data with a source beside every value.

Each catalogue is one TOML file in ``catalogue/``: an array of entries with a name and values of the
form ``[value, source]`` or ``[value, source, low, high]``, the last two for "unknown".
"""

import re
import tomllib
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple


class Sourced(NamedTuple):
    """A value as people write it, where it comes from, and the range that "unknown" stands for."""

    value: Any
    source: str
    unknown: tuple[str, str] | None = None


class Entry(NamedTuple):
    """One entry of a catalogue: its name and its values."""

    name: str
    values: dict[str, Sourced]


@cache
def catalogue(kind: str) -> dict[str, Entry]:
    """All entries of ``catalogue/<kind>.toml`` by name."""
    (rows,) = _load(kind).values()
    return {row["name"]: _entry(row) for row in rows}


@cache
def _aliases(kind: str) -> dict[str, str]:
    """Every spelling of every name, in its plain form, and the name it stands for."""
    (rows,) = _load(kind).values()
    return {
        plain(spelling): row["name"]
        for row in rows
        for spelling in (row["name"], *row.get("aliases", ()))
    }


def find(kind: str, name: str) -> Entry | None:
    """The entry of a name, however it is spaced and capitalized, or None.

    >>> find("cylinders", "20LB").name
    '20 lb'
    """
    known = _aliases(kind).get(plain(name))
    return catalogue(kind)[known] if known is not None else None


def nearest(word: str, known: list[str] | tuple[str, ...]) -> str | None:
    """The known word most like `word`, or None if none is like it."""
    by_plain = {plain(name): name for name in known}
    close = get_close_matches(plain(word[:80]), list(by_plain), n=1, cutoff=0.5)
    return by_plain[close[0]] if close else None


def plain(name: str) -> str:
    """A name in small letters without spaces, dashes and underscores."""
    return re.sub(r"[\s_-]+", "", name).casefold()


@cache
def default(key: str) -> Sourced:
    """The default of a key such as "appliance.purge", from ``catalogue/defaults.toml``."""
    table, name = key.split(".")
    entry = _load("defaults")[table][name]
    ends = entry.get("unknown")
    return Sourced(entry["value"], entry["source"], tuple(ends) if ends else None)


@cache
def vents() -> tuple[dict[str, str], ...]:
    """The rows of ``catalogue/vents.toml``: fixed openings by floor area."""
    return tuple(_load("vents")["vents"])


@cache
def drills() -> dict[str, float]:
    """Diameters of number drills [m] by number."""
    text = (files("coldsoak.rig") / "catalogue/drills.csv").read_text("utf-8")
    rows = [line.split(",") for line in text.splitlines() if line[:1].isdigit()]
    return {number: float(inches) * 0.0254 for number, inches in rows}


@cache
def filling_densities() -> tuple[tuple[float, float], ...]:
    """Upper specific gravity of each row and its filling density as a fraction."""
    text = (files("coldsoak.rig") / "catalogue/filling_density.csv").read_text("utf-8")
    rows = [line.split(",") for line in text.splitlines() if line[:1].isdigit()]
    return tuple((float(gravity), float(percent) / 100) for gravity, percent in rows)


def _entry(row: dict[str, Any]) -> Entry:
    return Entry(
        row["name"],
        {key: _sourced(key, value) for key, value in row.items() if key not in ("name", "aliases")},
    )


def _sourced(key: str, value: Any) -> Sourced:
    if isinstance(value, str):
        return Sourced(value, "common practice, no source")
    if key.startswith("unknown_"):
        return Sourced(None, "", (value[0], value[1]))
    ends = (value[2], value[3]) if len(value) == 4 else None
    return Sourced(value[0], value[1], ends)


@cache
def _load(kind: str) -> dict[str, Any]:
    return tomllib.loads((files("coldsoak.rig") / f"catalogue/{kind}.toml").read_text("utf-8"))
