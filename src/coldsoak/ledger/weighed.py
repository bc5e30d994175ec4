"""What a weight says: fuel in the cylinder, how it stands to the limit, what was used since."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import NamedTuple

from coldsoak.ledger.journal import in_order
from coldsoak.ledger.moment import instant, place_offset, seconds_since
from coldsoak.ledger.plausible import tolerance
from coldsoak.ledger.reading import Reading
from coldsoak.rig.trip import Cylinder

WEIGHTS = ("gross weight", "contents weight")
"""The kinds that say directly how much fuel there is."""

SHORTEST = 3600.0
"""Shortest time over which a rate of use means something on a scale [s]; common practice, no
source."""


class Before(NamedTuple):
    """What was known of the fuel before.

    reading : that says it; None for the contents that the trip file states at the start
    time : of it
    contents : fuel then [kg]
    added : put in since [kg], None if it was refilled and nobody said how much
    """

    reading: Reading | None
    time: datetime
    contents: float
    added: float | None


class Weighed(NamedTuple):
    """What a weight says.

    contents : fuel in the cylinder [kg], 0 for one that reads a little below its tare
    limit : most fuel that may be in it [kg]
    overfilled : whether there is more, beyond the rounding of scales
    before : None if nothing was known before
    seconds : since then [s], None if nothing was known
    used : since then [kg], None if that cannot be told; negative if fuel appeared
    per_day : mean use [kg/day], None if it cannot be told or the time is too short
    """

    contents: float
    limit: float
    overfilled: bool
    before: Before | None = None
    seconds: float | None = None
    used: float | None = None
    per_day: float | None = None


def contents_of(reading: Reading, cylinder: Cylinder) -> float:
    """Fuel [kg] by a reading of one of the kinds :data:`WEIGHTS`."""
    assert reading.value is not None
    empty = cylinder.tare if reading.kind == "gross weight" else 0.0
    return max(reading.value - empty, 0.0)


def weighed(
    reading: Reading, cylinder: Cylinder, others: Iterable[Reading], start: datetime
) -> Weighed:
    """What a weight says.

    Parameters
    ----------
    reading : of one of the kinds :data:`WEIGHTS`
    cylinder : that it is of
    others : the readings that count, of all kinds and cylinders
    start : of the trip
    """
    seen = in_order(
        each for each in others if each.cylinder == cylinder.name and each.id != reading.id
    )
    by_id: list[Reading] = sorted((*seen, reading), key=lambda each: each.id)
    offset = place_offset(by_id, start)
    contents = contents_of(reading, cylinder)
    overfilled = contents > cylinder.limit * (1.0 + tolerance())
    found = Weighed(contents, cylinder.limit, overfilled)
    now = instant(reading.time, offset)
    earlier = [each for each in seen if instant(each.time, offset) < now]
    before = _before(earlier, cylinder, start, offset)
    seconds = seconds_since(before.time, reading.time, offset)
    if seconds <= 0.0:
        return found
    used = None if before.added is None else before.contents + before.added - contents
    rate = None if used is None or used < 0.0 or seconds < SHORTEST else used * 86400.0 / seconds
    return found._replace(before=before, seconds=seconds, used=used, per_day=rate)


def _before(
    earlier: list[Reading], cylinder: Cylinder, start: datetime, offset: timedelta
) -> Before:
    """The last weight before, or else what the trip file states at the start."""
    weights = [each for each in earlier if each.kind in WEIGHTS]
    if weights:
        last = weights[-1]
        since = earlier[earlier.index(last) + 1 :]
        return Before(last, last.time, contents_of(last, cylinder), _added(since))
    since = [each for each in earlier if seconds_since(start, each.time, offset) > 0.0]
    return Before(None, start, cylinder.contents, _added(since))


def _added(since: list[Reading]) -> float | None:
    """Fuel put in by some readings [kg], None if one of them does not say how much."""
    amounts = [each.value for each in since if each.kind == "refilled"]
    known = [amount for amount in amounts if amount is not None]
    return sum(known, 0.0) if len(known) == len(amounts) else None
