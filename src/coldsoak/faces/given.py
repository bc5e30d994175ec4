"""Quantities of a command line: with their unit, as one value or a range."""

from typing import NamedTuple

from coldsoak.errors import InputError
from coldsoak.rig.catalogue import default
from coldsoak.rig.quantity import Measured


class Given(NamedTuple):
    """A quantity in SI: its middle, and half of its range."""

    value: float
    half: float


class Assumed(NamedTuple):
    """What a command line did not say, as text, with its source."""

    what: str
    value: str
    source: str


def given(option: str, text: str, measure: Measured) -> Given:
    """The quantity of an option.

    Raises InputError that names the option, what was found and what is allowed; "unknown" is
    refused too: a reading has to be one.

    >>> given("--start", "8 .. 9 psi", Measured("gauge_pressure")).half > 0
    True
    """
    from pydantic_core import PydanticCustomError

    try:
        quantity = measure.read(text)
    except PydanticCustomError as fault:
        context = fault.context or {}
        raise InputError(context["found"], context["allowed"], key=option) from None
    if quantity.low is None or quantity.high is None:
        raise InputError('found "unknown"', "give what was read, or a range", key=option)
    return Given((quantity.low + quantity.high) / 2.0, (quantity.high - quantity.low) / 2.0)


def given_or_default(
    option: str, text: str | None, measure: Measured, key: str, told: list[Assumed]
) -> Given:
    """The quantity of an option, or its default from the catalogue, which is then told."""
    if text is not None:
        return given(option, text, measure)
    usual = default(key)
    told.append(Assumed(option.lstrip("-").replace("-", " "), str(usual.value), usual.source))
    return given(option, str(usual.value), measure)


def needed(option: str, text: str | None, why: str) -> str:
    """The text of an option that this command line cannot do without; raises InputError."""
    if text is None:
        raise InputError(f"{option} is missing", why, key=None)
    return text
