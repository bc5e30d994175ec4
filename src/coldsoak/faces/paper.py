"""The sheet that every printed answer is written on: width, colors, what a terminal can do."""

import sys
from typing import Final

from rich.console import Console

INK: Final = "#1d2b3a"
RIME: Final = "#9ec5d8"
SLATE: Final = "#5b7c8d"
EMBER: Final = "#c8553d"

WIDTH = 80
"""Widest sheet [columns]: one that every terminal and every printer can show."""

NARROWEST = 60
"""Narrowest sheet that is laid out [columns]; a narrower window wraps it."""


def paper() -> Console:
    """Give a console on standard output, at most 80 columns wide.

    Colors follow the terminal and ``NO_COLOR``; nothing on the sheet is told by color alone.
    """
    console = Console(highlight=False, markup=False, emoji=False, soft_wrap=False)
    console.width = max(NARROWEST, min(WIDTH, console.width))
    return console


def speaks_unicode() -> bool:
    """Whether standard output can write the block and box characters of the night strip."""
    encoding = getattr(sys.stdout, "encoding", None) or "ascii"
    try:
        "█▓▒░━┅▲°".encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return False
    return True
