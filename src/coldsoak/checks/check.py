"""One comparison with the outside world: our number, theirs, and how far apart they may be."""

from dataclasses import dataclass
from typing import Literal

Status = Literal["published", "reference code", "common practice", "from memory"]
"""What kind of number `theirs` is: printed in a cited work, computed by an independent library
or closed form, a fact of the trade without a source, or remembered and not looked up."""


@dataclass(frozen=True)
class Check:
    """One comparison.

    Parameters
    ----------
    subject : str
        Group that the check is printed under, such as ``"vapor pressure"``.
    what : str
        The quantity and its conditions, such as ``"propane, gauge, 0 degF"``.
    source : str
        Author, year, table or equation of the other number.
    ours, theirs : float
        The two numbers, both in `unit`.
    unit : str
        Unit of both numbers, as it is written.
    tolerance : float
        Largest allowed size of `deviation` (relative, or in `unit` where `theirs` is zero).
    why : str
        Why the tolerance is that wide.
    status : str
        What kind of number `theirs` is.
    informative : bool
        Whether it tells something but proves nothing, because the source leaves open what ours
        depends on; being within its tolerance is then no test passed.
    """

    subject: str
    what: str
    source: str
    ours: float
    theirs: float
    unit: str
    tolerance: float
    why: str
    status: Status
    informative: bool = False

    @property
    def deviation(self) -> float:
        """Ours less theirs, relative to theirs; in `unit` where theirs is zero.

        >>> Check("a", "b", "c", 101.0, 100.0, "kPa", 0.02, "rounding", "published").deviation
        0.01
        """
        difference = self.ours - self.theirs
        return difference / abs(self.theirs) if self.theirs else difference

    @property
    def passed(self) -> bool:
        """Whether the deviation is within the tolerance; never with a number that is not one."""
        return abs(self.deviation) <= self.tolerance
