"""When each burner of a run burned, read off the run's log."""

from typing import NamedTuple

import numpy as np

from coldsoak.choose.run import Run
from coldsoak.night.burner import FLAME
from coldsoak.night.march import EVENT_CAUSE, Log
from coldsoak.night.records import Floats
from coldsoak.physics.combustion import gross_heating_value


class Burning(NamedTuple):
    """A burner over a trip: from each time on, the share of its full heat that it gives."""

    seconds: Floats
    """float64[k], the first one 0 [s]."""
    share: Floats
    """float64[k], 0 to 1."""

    def at(self, seconds: Floats) -> Floats:
        """The share at some times [s]."""
        return self.share[np.searchsorted(self.seconds, seconds, side="right") - 1]


def kept(log: Log) -> int:
    """Entries that the log holds."""
    return min(int(log.entries[0]), log.seconds.size)


def logged(log: Log, b: int) -> Burning:
    """Burner ``b`` as the log tells it: all or nothing."""
    entries = kept(log)
    what = log.what[:entries]
    mine = (log.which[:entries] == b) & (what < EVENT_CAUSE)
    seconds = np.concatenate([[0.0], log.seconds[:entries][mine]])
    share = np.concatenate([[0.0], (what[mine] == FLAME).astype(np.float64)])
    last = np.append(seconds[1:] > seconds[:-1], True)
    return Burning(seconds[last], share[last])


def burning(done: Run, b: int) -> Burning:
    """Burner ``b`` over the whole trip.

    Where the log was full before the end, the rest of what it burned is spread over the rest.
    """
    told = logged(done.outcome.log, b)
    if done.outcome.log.entries[0] <= done.outcome.log.seconds.size:
        return told
    end = float(done.outcome.log.seconds[-1])
    before = told.seconds < end
    seconds, share = told.seconds[before], told.share[before]
    so_far = float((share * np.diff(np.append(seconds, end))).sum())
    moles = done.night.cylinders.moles[0]
    full = float(done.night.burners.heat[b]) / gross_heating_value(moles / moles.sum())
    whole = float(done.outcome.burned[b]) / full if full > 0.0 else 0.0
    rest = min(1.0, max(0.0, whole - so_far) / (done.night.length - end))
    return Burning(np.append(seconds, end), np.append(share, rest))
