"""What a person saw at the site, and what the journal knows about it."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, kw_only=True)
class Observation:
    """One thing that somebody read, weighed or saw.

    Attributes
    ----------
    time : with its UTC offset where that is known, else the clock of the place
    kind : a name of :data:`coldsoak.ledger.kinds.KINDS`
    cylinder, appliance : what it is about; both None for the rig as a whole
    value : SI (kg, m, K, Pa gauge, s, share of 1); None for an event
    written : the value, or the words of an event, as the person wrote it
    temperature : of the cylinder or the air at that moment [K], None if not given
    temperature_written : as the person wrote it, "" if not given
    note : anything else
    """

    time: datetime
    kind: str
    cylinder: str | None = None
    appliance: str | None = None
    value: float | None = None
    written: str = ""
    temperature: float | None = None
    temperature_written: str = ""
    note: str = ""


@dataclass(frozen=True)
class Withdrawal:
    """That a reading does not count any more, why, and since when (UTC)."""

    because: str
    entered: datetime


@dataclass(frozen=True, kw_only=True)
class Reading(Observation):
    """An observation in the journal.

    Attributes
    ----------
    id : number in the journal, from 1 in the order of entering
    entered : UTC
    corrects : id of the reading that this one takes the place of
    corrected_by : id of the reading that takes the place of this one
    withdrawn : None while it counts
    """

    id: int
    entered: datetime
    corrects: int | None = None
    corrected_by: int | None = None
    withdrawn: Withdrawal | None = None

    @property
    def current(self) -> bool:
        """Whether it counts: neither corrected nor withdrawn."""
        return self.corrected_by is None and self.withdrawn is None
