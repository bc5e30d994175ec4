"""Every comparison with the outside world: what ``coldsoak checks`` prints and the tests run."""

from functools import cache
from itertools import chain

from coldsoak.checks import (
    air,
    combustion,
    convection,
    filling,
    films,
    heating,
    lines,
    offtake,
    orifices,
    pressure,
    properties,
    saturation,
    tanks,
    vaporization,
)
from coldsoak.checks.check import Check

SUBJECTS = (
    saturation,
    pressure,
    properties,
    combustion,
    air,
    filling,
    convection,
    films,
    vaporization,
    tanks,
    offtake,
    heating,
    lines,
    orifices,
)
"""One module for each subject, in the order of printing."""


@cache
def all_checks() -> tuple[Check, ...]:
    """All checks, those of one subject together; computed once."""
    return tuple(chain.from_iterable(subject.checks() for subject in SUBJECTS))
