"""Values below zero on a command line: "-12 degC" is a value there and no option."""

import re

import click

BELOW_ZERO = re.compile(r"-[\d.]")
MINUS = "−"


class TakesBelowZero(click.Command):
    """A command whose arguments may be negative numbers with units."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Hide the sign of negative numbers from the search for options."""
        hidden = [MINUS + arg[1:] if BELOW_ZERO.match(arg) else arg for arg in args]
        return super().parse_args(ctx, hidden)


def typed(text: str) -> str:
    """A value as it was typed, its sign put back.

    >>> typed("−12 degC")
    '-12 degC'
    """
    return f"-{text[1:]}" if text.startswith(MINUS) else text
