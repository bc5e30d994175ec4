"""A burner and its thermostat, as an engineer would script them."""

from dataclasses import dataclass
from typing import NamedTuple

from coldsoak.night.records import Record

IDLE, PURGE, FLAME, WAIT, LOCKED, OUT = range(6)

NEAR = 1e-6
"""A turning point counts as reached this near to it: scipy locates it to rounding [K]."""


class Burner(NamedTuple):
    """A burner's constants, as in `coldsoak.night.records.BURNER`."""

    heat: float
    room_share: float
    thermostat: bool
    differential: float
    minimum_on: float
    minimum_off: float
    purge: float
    tries: int
    retry_wait: float


@dataclass
class Flame:
    """What a burner is doing."""

    set_point: float
    phase: int = IDLE
    timer: float = 0.0
    tries: int = 0
    since: float = 0.0
    """When it began to burn for its set point [s]."""
    wanted: bool = False


def read_burner(row: Record) -> Burner:
    """Constants of a burner from its record."""
    return Burner(*(row[name].item() for name in Burner._fields))


def turning_point(burner: Burner, flame: Flame) -> float:
    """Temperature inside at which a thermostat turns the burner on, or off if it burns [K]."""
    half = burner.differential / 2
    return flame.set_point + (half if flame.phase == FLAME else -half)


def turn(burner: Burner, flame: Flame, seconds: float, inside: float, fed: bool) -> None:
    """Put a burner into the phase that follows the one it is in, if it must leave it now."""
    if not burner.thermostat:
        flame.phase = by_hand(flame, fed)
    elif flame.phase == FLAME and not fed:
        miss(burner, flame, seconds)
    elif seconds >= flame.timer:
        mark = turning_point(burner, flame)
        if flame.phase == WAIT or (flame.phase == IDLE and inside <= mark + NEAR):
            flame.phase, flame.timer = PURGE, seconds + burner.purge
        elif flame.phase == PURGE:
            ignite(burner, flame, seconds, fed)
        elif flame.phase == FLAME and inside >= mark - NEAR:
            flame.phase, flame.timer = IDLE, seconds + burner.minimum_off
            flame.tries = 0


def by_hand(flame: Flame, fed: bool) -> int:
    """Phase of a burner that is lit by hand: a dead flame stays out while it is wanted."""
    if not flame.wanted:
        return IDLE
    if flame.phase == OUT:
        return OUT
    return FLAME if fed else OUT


def ignite(burner: Burner, flame: Flame, seconds: float, fed: bool) -> None:
    """Open the gas after the purge: a trial."""
    flame.tries += 1
    if fed:
        flame.phase, flame.timer = FLAME, seconds + burner.minimum_on
        flame.since = seconds
    else:
        miss(burner, flame, seconds)


def miss(burner: Burner, flame: Flame, seconds: float) -> None:
    """No gas: wait for the next trial, or lock out after the last."""
    flame.phase = LOCKED if flame.tries >= burner.tries else WAIT
    flame.timer = seconds + burner.retry_wait


def reset(flame: Flame) -> None:
    """Someone is there: a locked-out or dead burner may start again."""
    if flame.phase in (WAIT, LOCKED, OUT):
        flame.phase, flame.timer, flame.tries = IDLE, 0.0, 0
