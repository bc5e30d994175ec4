"""Write docs/plan.svg: the printed plan of the demo trip as a picture of a sheet of paper.

    python tools/write_picture.py

The sheet is the one that `coldsoak plan` prints. Words become text; the shades and lines of the
night strip become shapes, so that they join in any font. A test holds the picture to the plan.
"""

import re
from collections.abc import Iterable, Iterator
from io import StringIO
from itertools import groupby
from pathlib import Path
from typing import NamedTuple
from xml.sax.saxutils import escape

from rich.console import Console
from rich.segment import Segment
from rich.style import Style
from rich.text import Text

from coldsoak.faces.paper import INK, SLATE, WIDTH
from coldsoak.faces.plan import planned, sun_over
from coldsoak.faces.screen import Sheet, print_plan

ROOT = Path(__file__).parent.parent
TRIP = ROOT / "examples/demo"
PICTURE = ROOT / "docs/plan.svg"

PAPER = "#faf7f2"
CELL_WIDTH, CELL_HEIGHT = 8.4, 18.0
"""Of one character, at a font size of 14 [px]."""
MARGIN = 24.0
"""Of the sheet [px]."""
BASELINE = 13.0
"""Of the text below the top of its line [px]."""

DOTS = {"░": ((0, 0),), "▒": ((0, 0), (2, 2)), "▓": ((0, 0), (2, 0), (2, 2))}
"""Where a shade has its dots of 2 px in a square of 4 px."""
STROKES = {"━": "", "┅": ' stroke-dasharray="4 2"'}
"""Lines through the middle of a cell, and how each is dashed."""

WORDS = re.compile(r"\S+(?: \S+)*")
"""Words that one space parts; a wider gap is a column of the sheet."""

FRAME = """\
<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}" height="{height:g}"
viewBox="0 0 {width:g} {height:g}" role="img">
<title>The printed plan of the demo trip</title>
<desc>{words}</desc>
<style>
text {{ font: 14px ui-monospace, Menlo, Consolas, "DejaVu Sans Mono", monospace; fill: {ink} }}
.b {{ font-weight: bold }}
</style>
<defs>{patterns}</defs>
<rect width="{width:g}" height="{height:g}" fill="{paper}" stroke="{edge}"/>
<g transform="translate({margin:g} {margin:g})" shape-rendering="crispEdges">
{lines}
</g>
</svg>
"""


class Look(NamedTuple):
    """Colors of the characters and of the ground behind them, None for the sheet's own."""

    pen: str | None
    ground: str | None
    bold: bool


class Shading:
    """The dotted patterns that a picture needs, each named once."""

    def __init__(self) -> None:
        self.names: dict[tuple[str, str], str] = {}

    def name(self, glyph: str, color: str) -> str:
        """Name of the pattern of a shade in a color."""
        return self.names.setdefault((glyph, color), f"p{len(self.names)}")

    def definitions(self) -> str:
        """Every pattern that has a name."""
        made = []
        for (glyph, color), name in self.names.items():
            dots = "".join(
                f'<rect x="{x}" y="{y}" width="2" height="2" fill="{color}"/>'
                for x, y in DOTS[glyph]
            )
            frame = f'id="{name}" width="4" height="4" patternUnits="userSpaceOnUse"'
            made.append(f"<pattern {frame}>{dots}</pattern>")
        return "".join(made)


def look_of(style: Style | None) -> Look:
    """The colors of a style."""
    if style is None:
        return Look(None, None, False)
    colors = (
        None if color is None or color.triplet is None else color.triplet.hex
        for color in (style.color, style.bgcolor)
    )
    return Look(*colors, bool(style.bold))


def block(x: int, y: int, width: int, fill: str) -> str:
    """A filled stretch of cells."""
    return (
        f'<rect x="{x * CELL_WIDTH:g}" y="{y * CELL_HEIGHT:g}" '
        f'width="{width * CELL_WIDTH:g}" height="{CELL_HEIGHT:g}" fill="{fill}"/>'
    )


def stroke(x: int, y: int, glyph: str, width: int, color: str) -> str:
    """A line through the middle of a stretch of cells."""
    middle = (y + 0.5) * CELL_HEIGHT
    return (
        f'<path d="M{x * CELL_WIDTH:g} {middle:g}h{width * CELL_WIDTH:g}" stroke="{color}" '
        f'stroke-width="3"{STROKES[glyph]}/>'
    )


def words(x: int, y: int, text: str, look: Look) -> Iterator[str]:
    """A stretch of text, each column of it kept to the width of its cells in any font."""
    style = f' style="fill:{look.pen}"' if look.pen else ""
    style += ' class="b"' if look.bold else ""
    for found in WORDS.finditer(text):
        yield (
            f'<text x="{(x + found.start()) * CELL_WIDTH:g}" '
            f'y="{y * CELL_HEIGHT + BASELINE:g}" '
            f'textLength="{len(found[0]) * CELL_WIDTH:g}"{style}>{escape(found[0])}</text>'
        )


def stretch(x: int, y: int, text: str, look: Look, shading: Shading) -> Iterator[str]:
    """A run of characters of one look: its ground, its shapes, its words."""
    if look.ground:
        yield block(x, y, len(text), look.ground)
    pen = look.pen or INK
    for glyph, run in groupby(text, key=lambda c: c if c in DOTS or c in STROKES else ""):
        part = "".join(run)
        if glyph in DOTS:
            yield block(x, y, len(part), f"url(#{shading.name(glyph, pen)})")
        elif glyph in STROKES:
            yield stroke(x, y, glyph, len(part), pen)
        else:
            yield from words(x, y, part, look)
        x += len(part)


def drawn(line: Iterable[Segment], y: int, shading: Shading) -> str:
    """One line of the sheet."""
    x, parts = 0, []
    for look, run in groupby(line, key=lambda segment: look_of(segment.style)):
        text = "".join(segment.text for segment in run).removesuffix("\n")
        parts += stretch(x, y, text, look, shading)
        x += len(text)
    return "".join(parts)


def printed() -> list[Text]:
    """The lines of the demo trip's plan as `coldsoak plan` prints them in a wide window."""
    trip, weather, result = planned(str(TRIP))
    sheet = Sheet(
        plan=result.plan,
        series=result.series,
        start=trip.start,
        elevation=trip.place.elevation,
        sun_elevation=sun_over(result.series.seconds, weather),
        units="si",
        unicode=True,
    )
    out = StringIO()
    paper = Console(
        file=out,
        width=WIDTH,
        force_terminal=True,
        color_system="truecolor",
        highlight=False,
        markup=False,
        emoji=False,
        no_color=False,
    )
    print_plan(paper, sheet)
    return list(Text.from_ansi(out.getvalue()).split("\n", allow_blank=False))


def picture(lines: list[Text]) -> str:
    """The lines as a sheet of paper."""
    console, shading = Console(width=WIDTH), Shading()
    body = "\n".join(
        drawn(console.render(line, console.options), y, shading) for y, line in enumerate(lines)
    )
    return FRAME.format(
        width=2.0 * MARGIN + WIDTH * CELL_WIDTH,
        height=2.0 * MARGIN + len(lines) * CELL_HEIGHT,
        words=escape(" ".join(line.plain.strip() for line in lines[:3])),
        ink=INK,
        edge=SLATE,
        paper=PAPER,
        patterns=shading.definitions(),
        margin=MARGIN,
        lines=body,
    )


if __name__ == "__main__":
    PICTURE.write_text(picture(printed()), "utf-8")
