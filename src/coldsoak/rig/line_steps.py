"""A line changed by one step of the catalogue: wider, shorter, with fewer fittings."""

from collections.abc import Iterator
from dataclasses import replace

from coldsoak.rig.catalogue import Entry, catalogue, find
from coldsoak.rig.line import bore_of, fittings_worth, sizes
from coldsoak.rig.trip import Line, QuickConnect
from coldsoak.rig.units import parse

STAYS = ("ball valve", "gas cock")
"""Fittings that cannot be left out."""


def wider(line: Line) -> Line | None:
    """The same line one size wider, inches behind inches and metric behind metric; None if widest.

    A line of its own diameter takes the next size above it.
    """
    metric = line.size.endswith("mm")
    for entry in sizes(line.kind):
        bore = bore_of(entry)
        same = not line.size or entry.name.endswith("mm") == metric
        if same and bore.diameter > line.diameter * 1.001:
            return replace(
                line,
                size=entry.name,
                diameter=bore.diameter,
                roughness=bore.roughness,
                friction=bore.friction,
                code_diameter=bore.code_diameter,
                fittings_length=fittings_worth(line.fittings, bore.diameter),
            )
    return None


def shorter(line: Line) -> Line | None:
    """The same line with the next smaller length that it is sold or cut in; None if shortest."""
    entry = find("line_lengths", line.kind) or catalogue("line_lengths")["pipe"]
    lengths = [parse(text, "length") for text in entry.values["lengths"].value]
    smaller = [length for length in lengths if length < line.length - 1e-3]
    return replace(line, length=max(smaller)) if smaller else None


def with_fewer_fittings(line: Line) -> Iterator[tuple[str, int, Line]]:
    """Every way to leave fittings of one sort out: their name, how many, and the line then."""
    for name, count in line.fittings:
        entry = find("fittings", name)
        if entry is not None and entry.name in STAYS:
            continue
        for fewer in range(1, count + 1):
            left = tuple((n, c - fewer if n == name else c) for n, c in line.fittings)
            worth = fittings_worth(left, line.diameter)
            yield name, fewer, replace(line, fittings=left, fittings_length=worth)


def wider_quick_connect(outlet: QuickConnect) -> QuickConnect | None:
    """The next larger quick-connect of the catalogue, None if there is none."""
    larger = [quick_connect(entry) for entry in catalogue("quick_connects").values()]
    larger = [each for each in larger if each.rating > outlet.rating * 1.001]
    return min(larger, key=lambda each: each.rating) if larger else None


def quick_connect(entry: Entry) -> QuickConnect:
    """A quick-connect of the catalogue."""
    return QuickConnect(
        entry.name,
        parse(entry.values["rating"].value, "gas_rate"),
        parse(entry.values["drop"].value, "gauge_pressure"),
    )
