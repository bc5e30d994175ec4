"""One step in time: the Bogacki-Shampine pair, its error and its interpolant.

The pair of orders 3 and 2 (Bogacki & Shampine 1989, A 3(2) pair of Runge-Kutta formulas, Appl.
Math. Lett. 2, 321-325) needs three new rates a step. A night with a thermostat is a chain of short
smooth pieces, where a higher order buys nothing.
"""

from coldsoak.night.records import Floats
from coldsoak.physics.compiled import compiled

SAFETY = 0.85
LARGEST_GROWTH = 5.0
SMALLEST_SHRINK = 0.2

SHORTEST_STEP = 1e-3
"""Steps are not shortened below this, whatever their error [s]."""
FIRST_STEP = 60.0
"""[s]"""


FIRST, SECOND, THIRD, LAST, TRIAL = 0, 1, 2, 3, 4
"""Rows of the stages of a step, float64[STAGES, size]: the rates at its four points, and the state
at its end."""
STAGES = 5


@compiled
def combine(state: Floats, step: float, stages: Floats, a: float, b: float, c: float) -> None:
    """Set the trial state to ``state + step (a first + b second + c third)``."""
    for i in range(state.size):
        stages[TRIAL, i] = state[i] + step * (
            a * stages[FIRST, i] + b * stages[SECOND, i] + c * stages[THIRD, i]
        )


@compiled
def to_second(state: Floats, step: float, stages: Floats) -> None:
    """Set the trial state to where the second rates are taken, half way."""
    combine(state, step, stages, 0.5, 0.0, 0.0)


@compiled
def to_third(state: Floats, step: float, stages: Floats) -> None:
    """Set the trial state to where the third rates are taken, three quarters of the way."""
    combine(state, step, stages, 0.0, 0.75, 0.0)


@compiled
def to_end(state: Floats, step: float, stages: Floats) -> None:
    """Set the trial state to the end of the step, of third order."""
    combine(state, step, stages, 2.0 / 9.0, 1.0 / 3.0, 4.0 / 9.0)


@compiled
def defect(stages: Floats, i: int, step: float) -> float:
    """Difference of the third-order and the second-order result in component ``i``."""
    return abs(
        step
        * (
            -5.0 / 72.0 * stages[FIRST, i]
            + stages[SECOND, i] / 12.0
            + stages[THIRD, i] / 9.0
            - stages[LAST, i] / 8.0
        )
    )


@compiled
def next_step(step: float, error: float, tolerance: float) -> float:
    """Step that should just keep the tolerance, by the order of the error."""
    if not error < 1e30:
        return step * SMALLEST_SHRINK
    factor = SAFETY * (tolerance / max(error, 1e-30)) ** (1.0 / 3.0)
    return step * min(LARGEST_GROWTH, max(SMALLEST_SHRINK, factor))


@compiled
def between(state: Floats, stages: Floats, i: int, step: float, part: float) -> float:
    """Component ``i`` at ``part`` (0 to 1) of a step, by the cubic through both ends' rates."""
    low = state[i]
    rise = stages[TRIAL, i] - low
    at_start = step * stages[FIRST, i] - rise
    at_end = rise - step * stages[LAST, i]
    return low + part * rise + part * (1.0 - part) * ((1.0 - part) * at_start + part * at_end)


@compiled
def crossing(state: Floats, stages: Floats, i: int, step: float, value: float) -> float:
    """Part of the step at which component ``i`` passes ``value``, by bisection to 2^-40."""
    low = 0.0
    high = 1.0
    sign = 1.0 if stages[TRIAL, i] > value else -1.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        if sign * (between(state, stages, i, step, middle) - value) > 0.0:
            high = middle
        else:
            low = middle
    return high
