"""The night strip: the whole trip from left to right, what is asked and what can be given.

What the burners ask for is a line; what the open cylinders can give is a filled band in its
three stores of heat over the next hour. Where the line leaves the band more is asked than
can last an hour; where the gas fails is a mark with words. The strip is drawn with characters
and stays readable without color.
"""

from datetime import datetime, timedelta
from itertools import pairwise
from math import ceil, log10
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray
from rich.text import Text

from coldsoak.choose.worst_hour import means_of_line, means_of_steps
from coldsoak.faces import clock, shown
from coldsoak.faces.paper import EMBER, INK, RIME, SLATE

if TYPE_CHECKING:
    from coldsoak.choose.answer import Failure, Plan, Swap
    from coldsoak.night.series import Series

Floats = NDArray[np.float64]

HOUR = 3600.0

GUTTER = 8
"""Columns left of the picture, for the scale."""

ROWS = 7
"""Height of the picture where there is room for it."""

HEADROOM = 1.6
"""The scale reaches this far above the most that is asked, so that the band's edge is seen."""


class Glyphs(NamedTuple):
    """Characters of the picture; each part has its own, so that color is never needed."""

    vapor: str
    sensible: str
    wall: str
    given: str
    short: str
    night: str
    mark: str
    tick: str
    degree: str


UNICODE = Glyphs("░", "▒", "▓", "━", "┅", "·", "▲", "╵", "°")
ASCII = Glyphs(":", "+", "#", "=", "!", ".", "^", "'", "")


class Columns(NamedTuple):
    """What each column of the picture shows, float64[columns] [W gross]."""

    asked: Floats
    vapor: Floats
    sensible: Floats
    wall: Floats
    night: NDArray[np.bool_]


class Cell(NamedTuple):
    """One character of the picture: the store behind it and the line in front of it."""

    band: str
    line: str


def columns_of(series: "Series", sun_elevation: Floats | None, width: int) -> Columns:
    """Average a series into columns of equal time.

    Parameters
    ----------
    series : Series
        Time series of a plan, with at least two rows.
    sun_elevation : float64[n] or None
        Elevation of the sun at the rows of the series [rad]; None when it is not known.
    width : int
        Number of columns.
    """
    edges = np.linspace(series.seconds[0], series.seconds[-1], width + 1)
    asked = means_of_steps(series.seconds, series.asked, edges)
    vapor, sensible, wall = (
        means_of_line(series.seconds, can, edges)
        for can in (series.vapor_can, series.sensible_can, series.wall_can)
    )
    night = np.zeros(width, dtype=bool)
    if sun_elevation is not None:
        night = np.interp((edges[1:] + edges[:-1]) / 2, series.seconds, sun_elevation) < 0.0
    return Columns(asked, vapor, sensible, wall, night)


def scale_top(columns: Columns) -> float:
    """Power at the top of the picture [W]: above all that is asked, not above all that could be."""
    most_asked = float(columns.asked.max())
    can = columns.vapor + columns.sensible + columns.wall
    return HEADROOM * most_asked if most_asked > 0.0 else float(can.max())


def round_up(value: float) -> float:
    """The next number of the series 1, 1.5, 2, 3, 4, 5, 6, 8, 10 at any power of ten.

    >>> round_up(7000.0), round_up(25600.0)
    (8000.0, 30000.0)
    """
    power = 10.0 ** np.floor(log10(value))
    steps = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
    return float(next(step * power for step in steps if step * power >= value * (1.0 - 1e-9)))


def column_cells(columns: Columns, i: int, top: float, rows: int) -> list[Cell]:
    """Draw one column from the bottom up.

    The line stands inside the band exactly when no more is asked than can be given; rounding
    to whole rows never says otherwise.
    """
    height = rows / top
    asked, wall = columns.asked[i], columns.wall[i]
    liquid = wall + columns.sensible[i]
    total = liquid + columns.vapor[i]
    row = min(ceil(asked * height), rows) - 1
    edge = min(round(total * height), rows)
    edge = max(edge, row + 1) if asked <= total else min(edge, row)
    steps = (min(round(wall * height), edge), min(int(liquid * height + 0.3), edge), edge)
    bands = ["wall"] * steps[0] + ["sensible"] * (steps[1] - steps[0])
    bands += ["vapor"] * (edge - len(bands)) + ["night" if columns.night[i] else ""] * rows
    line = "given" if asked <= total else "short"
    return [Cell(band, line if r == row else "") for r, band in enumerate(bands[:rows])]


STYLES: dict[str, tuple[str, str]] = {
    "wall": (SLATE, INK),
    "sensible": (RIME, SLATE),
    "vapor": (SLATE, RIME),
    "night": (SLATE, INK),
}
"""Color of the character and of the ground behind it."""


def cell_text(cell: Cell, glyphs: Glyphs) -> tuple[str, str]:
    """Character and style of one cell."""
    pen, ground = STYLES.get(cell.band, ("", ""))
    if not cell.line:
        return getattr(glyphs, cell.band) if cell.band else " ", f"{pen} on {ground}" if pen else ""
    color = EMBER if cell.line == "short" else INK if ground in (RIME, SLATE) else RIME
    style = f"bold {color}" + (f" on {ground}" if ground else "")
    return getattr(glyphs, cell.line), style if ground or cell.line == "short" else "bold"


def picture(columns: Columns, units: str, glyphs: Glyphs, rows: int = ROWS) -> list[Text]:
    """Draw the band and the line, with the scale at the left, as lines of text from the top."""
    _, unit_watts = shown.power_unit(units)
    top = round_up(scale_top(columns) / unit_watts) * unit_watts
    drawn = [column_cells(columns, i, top, rows) for i in range(len(columns.asked))]
    labels = {rows - 1: top / unit_watts}
    lines = []
    for row in reversed(range(rows)):
        label = f"{labels[row]:.0f}" if row in labels else ""
        line = Text(f"{label:>{GUTTER - 1}} ")
        for column in drawn:
            line.append(*cell_text(column[row], glyphs))
        lines.append(line)
    return lines


def sky_line(night: NDArray[np.bool_], unit: str, glyphs: Glyphs) -> Text:
    """The line above the picture: nights shaded, dusk and dawn in words where they fit."""
    line = Text(f"{unit:>{GUTTER - 1}} ")
    turns = [0, *(np.flatnonzero(np.diff(night.astype(np.int8))) + 1), len(night)]
    for first, last in pairwise(turns):
        if night[first]:
            dusk, dawn = "dusk" if first > 0 else "", "dawn" if last < len(night) else ""
            line.append(_night_words(dusk, dawn, last - first, glyphs), f"{RIME} on {INK}")
        else:
            line.append(_filled("day" if night.any() else "", last - first, " "))
    return line


def _night_words(dusk: str, dawn: str, width: int, glyphs: Glyphs) -> str:
    """One night of the sky line: the words at its ends if both fit, else the night by name."""
    if len(dusk) + len(dawn) + 2 > width:
        return _filled("night", width, glyphs.night)
    return dusk + glyphs.night * (width - len(dusk) - len(dawn)) + dawn


def _filled(word: str, width: int, fill: str) -> str:
    """Center a word in a field, or leave it out where it does not fit."""
    return (word if len(word) + 2 <= width else "").center(width, fill)


def ticks(start: datetime, seconds: float, width: int) -> list[tuple[int, datetime]]:
    """Whole hours by the trip's clock to mark below the picture, as (column, time)."""
    per_hour = width / (seconds / HOUR)
    step = next((hours for hours in (1, 2, 3, 6, 12, 24) if hours * per_hour >= 5.5), 24)
    midnight = start.replace(hour=0, minute=0, second=0, microsecond=0)
    marks = []
    for hour in range(0, int(seconds / HOUR) + 25, step):
        when = midnight + timedelta(hours=hour)
        column = round((when - start).total_seconds() / HOUR * per_hour)
        if 0 <= column < width:
            marks.append((column, when))
    return marks


def placed(entries: list[tuple[int, str]], width: int) -> str:
    """Write words at columns of one line, leaving out what would run into the word before.

    >>> placed([(0, "18h"), (3, "19h"), (6, "Sat")], 10)
    '18h   Sat '
    """
    line = ""
    for column, word in entries:
        if column >= len(line) + bool(line) and column + len(word) <= width:
            line = line.ljust(column) + word
    return line.ljust(width)


def axis_line(marks: list[tuple[int, datetime]], width: int, glyphs: Glyphs) -> Text:
    """The line of clock times; midnight carries the name of the day that begins."""
    words = [
        (column, glyphs.tick + (f"{when:%a}" if when.hour == 0 else f"{when:%H}h"))
        for column, when in marks
    ]
    return Text(" " * GUTTER + placed(words, width))


def temperature_line(
    label: str,
    temperature: Floats,
    series: "Series",
    marks: list[tuple[int, datetime]],
    width: int,
    units: str,
) -> Text:
    """A line of temperatures [K] at the marked times, in the units that are shown."""
    end = float(series.seconds[-1])
    words = []
    for column, _ in marks:
        kelvin = np.interp(column / width * end, series.seconds, temperature)
        words.append((column + 1, shown.celsius(float(kelvin) - shown.FREEZING, units).split()[0]))
    return Text(f"{label:>{GUTTER - 1}} " + placed(words, width))


def mark_lines(marks: list[tuple[int, str, str]], width: int, glyphs: Glyphs) -> list[Text]:
    """Marks under columns with their words, on one line as long as they do not touch.

    Parameters
    ----------
    marks : list of (int, str, str)
        Column, words and style, in the order of time.
    width : int
        Columns of the picture.
    glyphs : Glyphs
        Has the mark.
    """
    lines: list[Text] = []
    for column, words, style in marks:
        first, text = mark_beside(min(column, width - 1), words, width, glyphs)
        line = next((line for line in lines if len(line) < GUTTER + first), None)
        if line is None:
            line = Text(no_wrap=True, overflow="ellipsis")
            lines.append(line)
        line.append(" " * (GUTTER + first - len(line))).append(text, style)
    return lines


def mark_beside(column: int, words: str, width: int, glyphs: Glyphs) -> tuple[int, str]:
    """Put words to the right of a mark, or to its left near the edge; shorter where it is narrow.

    Returns
    -------
    (int, str)
        First column of the text, and the text with its mark, which stands at `column`.
    """
    for said in (words, words.split(": ")[-1]):
        if column + 2 + len(said) <= width:
            return column, f"{glyphs.mark} {said}"
        if column >= 1 + len(said):
            return column - 1 - len(said), f"{said} {glyphs.mark}"
    return column, glyphs.mark


def marks_of(
    swaps: tuple["Swap", ...], failure: "Failure | None", per_hour: float
) -> list[tuple[int, str, str]]:
    """What is marked below the picture: the failure, and the changes of cylinders before it.

    Parameters
    ----------
    swaps : tuple of Swap
        Changes of cylinders in the order of time.
    failure : Failure or None
        The first failure.
    per_hour : float
        Columns of the picture for one hour.
    """
    marks = [
        (int(swap.hours * per_hour), f"{swap.from_} to {swap.to}", "")
        for swap in swaps
        if failure is None or swap.hours <= failure.hours
    ]
    if failure is not None:
        words = f"{clock.moment(datetime.fromisoformat(failure.time))} fails: {failure.cause}"
        marks.append((int(failure.hours * per_hour), words, f"bold {EMBER}"))
    return marks


def legend(width: int, glyphs: Glyphs) -> list[Text]:
    """What the characters mean, on two lines where one is too narrow."""
    asked = Text(f"{'':{GUTTER}}{glyphs.given} asked  {glyphs.short} too much to last")
    stores = Text("can give")
    for name, word in (("vapor", "vapor"), ("sensible", "liquid, steel"), ("wall", "wall")):
        stores.append("  ").append(*cell_text(Cell(name, ""), glyphs)).append(f" {word}")
    if len(asked) + 3 + len(stores) <= width:
        return [asked.append("   ").append(stores)]
    return [asked, Text(" " * GUTTER).append(stores)]


def night_strip(
    plan: "Plan",
    series: "Series",
    start: datetime,
    sun_elevation: Floats | None,
    units: str,
    columns_wide: int,
    glyphs: Glyphs,
    rows: int = ROWS,
) -> list[Text]:
    """Draw the whole strip.

    Parameters
    ----------
    plan : Plan
        For the failure and the changes of cylinders that are marked.
    series : Series
        What is drawn.
    start : datetime
        Start of the trip.
    sun_elevation : float64[n] or None
        Elevation of the sun at the rows of the series [rad]; None leaves dusk and dawn out.
    units : str
        ``"us"`` or ``"si"``.
    columns_wide : int
        Width of the sheet.
    glyphs : Glyphs
        Characters to draw with.
    rows : int
        Height of the picture in it; under :data:`ROWS` what the sheet says elsewhere is left
        out: the changes of cylinders and the inside temperature.

    Returns
    -------
    list of rich.text.Text
        Lines from the top; empty when there is nothing to draw.
    """
    width = columns_wide - GUTTER
    if len(series.seconds) < 2:
        return []
    columns = columns_of(series, sun_elevation, width)
    if scale_top(columns) <= 0.0:
        return []
    end = float(series.seconds[-1])
    hours = ticks(start, end, width)
    lines = [
        sky_line(columns.night, shown.power_unit(units)[0], glyphs),
        *picture(columns, units, glyphs),
    ]
    roomy = rows >= ROWS
    swaps = plan.swaps if roomy else ()
    lines += mark_lines(marks_of(swaps, plan.first_failure, width * HOUR / end), width, glyphs)
    lines.append(axis_line(hours, width, glyphs))
    degrees = f"{glyphs.degree}{'F' if units == 'us' else 'C'}"
    lines.append(temperature_line(f"air {degrees}", series.air, series, hours, width, units))
    if roomy and np.isfinite(series.inside).all():
        lines.append(temperature_line("inside", series.inside, series, hours, width, units))
    return [*lines, *legend(columns_wide, glyphs)]
