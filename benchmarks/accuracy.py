"""How far a run is from the truth, so that contenders are timed at equal error.

The truth of a contender is a much tighter run of its own: the march at :data:`MARCH_TIGHT`, the
script at :data:`SCRIPT_TIGHT`. What then still differs between the two is not the solver but the
fits, and the tests keep that small.
"""

from typing import NamedTuple

import numpy as np
from rival import Ran

from coldsoak.night.cylinder import FROST, MOLES, TEMPERATURE
from coldsoak.night.march import (
    EMPTY,
    EVENT_CAUSE,
    FREEZING,
    HEAT_SHORT,
    RESIDUE,
    VAPOR_LIMITED,
    Outcome,
    march,
)
from coldsoak.night.records import Night
from coldsoak.night.room import GAINED
from coldsoak.physics.fuel import MOLAR_MASS, N_COMPONENTS

MARCH_TIGHT = 1e-6
"""Tolerance of the march [K] that counts as exact."""
SCRIPT_TIGHT = 1e-9
"""Relative tolerance of the script that counts as exact."""

LOOSEST, TIGHTEST = 0.1, 1e-5
"""Between these the march's tolerance is looked for [K]."""


class Errors(NamedTuple):
    """What a run misses."""

    liquid: float
    """Largest error of a liquid's temperature at the times compared [K]."""
    failure: float
    """Of the first failure of the supply [s]; infinite if only one of the runs fails."""
    burned: float
    """Of all fuel burned [kg]."""


def errors(ran: Ran, tight: Ran) -> Errors:
    """Errors of a run against a tighter one at the same times."""
    both_hold = np.isinf(ran.failed) and np.isinf(tight.failed)
    return Errors(
        float(np.abs(ran.liquid - tight.liquid).max()),
        0.0 if both_hold else abs(ran.failed - tight.failed),
        abs(float(ran.burned.sum() - tight.burned.sum())),
    )


def run_march(night: Night, tolerance: float, spacing: float) -> Ran:
    """The march's run in the form of the script's, its states every ``spacing`` seconds.

    The heavy node's temperature is not recorded and stays NaN.
    """
    outcome = march(night, tolerance, spacing)
    track, failures = outcome.track, outcome.failures.seconds
    cylinders = track.cylinders
    states = np.full((len(track.seconds), 2 + 3 * cylinders.shape[1]), np.nan)
    states[:, 0] = track.room
    states[:, 2::3] = cylinders[:, :, TEMPERATURE]
    states[:, 3::3] = cylinders[:, :, FROST]
    states[:, 4::3] = cylinders[:, :, MOLES : MOLES + N_COMPONENTS] @ MOLAR_MASS
    return Ran(
        track.seconds,
        states,
        outcome.burned,
        flame_heat(night, outcome),
        turns(outcome),
        float(failures[[VAPOR_LIMITED, EMPTY, RESIDUE]].min()),
        float(failures[HEAT_SHORT]),
        float(failures[FREEZING]),
    )


def turns(outcome: Outcome) -> list[tuple[float, int, int]]:
    """Turns of burners in a march's log: (seconds, burner, phase)."""
    log = outcome.log
    kept = min(int(log.entries[0]), len(log.seconds))
    entries = zip(log.seconds[:kept], log.which[:kept], log.what[:kept], strict=True)
    return [(float(t), int(b), int(phase)) for t, b, phase in entries if phase < EVENT_CAUSE]


def flame_heat(night: Night, outcome: Outcome) -> float:
    """Heat that the flames gave the room [J]: all that it gained but people's and the sun's."""
    if not night.heated:
        return np.nan
    cabin = night.cabin[0]
    rows = night.weather.seconds
    times = np.append(rows[rows < night.length], night.length)
    sun = np.trapezoid(np.interp(times, rows, night.weather.sun_window), times)
    return float(outcome.room[GAINED] - cabin.people * night.length - cabin.sun_aperture * sun)


def tolerance_for(night: Night, error: float, spacing: float) -> float:
    """Loosest tolerance of the march that keeps every liquid's temperature within ``error`` [K].

    Compared every ``spacing`` seconds; tolerances are tried by factors of two.
    """
    tight = run_march(night, MARCH_TIGHT, spacing)
    tolerance = LOOSEST
    while tolerance > TIGHTEST:
        if errors(run_march(night, tolerance, spacing), tight).liquid <= error:
            break
        tolerance /= 2
    return tolerance
