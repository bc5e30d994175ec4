"""How a burner starts, loses its gas, tries again and locks out.

A thermostat burner that calls runs its purge, opens the gas, and stays lit while the supply holds.
Without gas it waits and tries again; after its last try it locks out and stays so until someone
resets it. A burner without thermostat is lit when its time comes; if its flame dies, its flame
guard keeps it out until it is lit again by hand.
"""

import numpy as np

from coldsoak.night.records import Record
from coldsoak.physics.compiled import compiled

IDLE = 0
PURGE = 1
FLAME = 2
WAIT = 3
LOCKED = 4
OUT = 5

NEVER = 1e300

SLACK = 1e-3
"""A turning point counts as reached this near to it: the error of locating it [K]."""


FLAME_STATE = np.dtype(
    [
        ("phase", "i8"),
        ("timer", "f8"),  # when the phase may end [s]
        ("tries", "i8"),  # trials since the last good burn
        ("since", "f8"),  # since when the flame burns for its set point [s]
        ("set_point", "f8"),  # [K]
        ("wanted", "?"),  # whether its schedule wants it lit
        ("burned", "f8"),  # fuel burned since the start [kg]
    ]
)
"""What a burner is doing."""


@compiled
def next_phase(seconds: float, inside: float, fed: bool, burner: Record, flame: Record) -> int:
    """Phase that a burner goes to at this instant, or the one it is in.

    Parameters
    ----------
    seconds : float
        Now [s].
    inside : float
        Temperature at the thermostat [K]; -infinity where there is no shelter.
    fed : bool
        Whether the supply holds the pressure that the regulator needs.
    burner, flame : BURNER, FLAME_STATE
        The burner and what it is doing.
    """
    phase = flame.phase
    if phase == FLAME and not fed:
        if not burner.thermostat:
            return OUT
        return LOCKED if flame.tries >= burner.tries else WAIT
    if not burner.thermostat:
        if phase == IDLE and flame.wanted:
            return FLAME if fed else OUT
        return phase if flame.wanted else IDLE
    if seconds < flame.timer:
        return phase
    half = 0.5 * burner.differential
    if phase == IDLE and inside <= flame.set_point - half + SLACK:
        return PURGE
    if phase == FLAME and inside >= flame.set_point + half - SLACK:
        return IDLE
    if phase == WAIT:
        return PURGE
    if phase == PURGE:
        if fed:
            return FLAME
        return LOCKED if flame.tries + 1 >= burner.tries else WAIT
    return phase


@compiled
def turn(new: int, seconds: float, burner: Record, flame: Record) -> None:
    """Put a burner into phase ``new``: renew its timer and count its trials."""
    flame.timer = NEVER
    if new == PURGE:
        flame.timer = seconds + burner.purge
    elif new == FLAME:
        flame.tries += 1
        flame.since = seconds
        flame.timer = seconds + burner.minimum_on
    elif new == WAIT:
        if flame.phase == PURGE:
            flame.tries += 1
        flame.timer = seconds + burner.retry_wait
    elif new == IDLE:
        flame.tries = 0
        flame.timer = seconds + burner.minimum_off
    flame.phase = new


@compiled
def next_time(seconds: float, inside: float, burner: Record, flame: Record) -> float:
    """Next time at which a thermostat burner may change by its timer [s].

    Minimum times on and off matter only where the room has passed the turning point before.
    """
    if not burner.thermostat:
        return NEVER
    half = 0.5 * burner.differential
    waiting = flame.phase == PURGE or flame.phase == WAIT
    if flame.phase == IDLE:
        waiting = inside <= flame.set_point - half + SLACK
    elif flame.phase == FLAME:
        waiting = inside >= flame.set_point + half - SLACK
    return flame.timer if waiting and flame.timer > seconds else NEVER


@compiled
def asks(burner: Record, flame: Record) -> bool:
    """Whether a burner would burn if it had gas: lit, trying, locked out or blown out."""
    if burner.thermostat:
        return bool(flame.phase != IDLE)
    return bool(flame.wanted)
