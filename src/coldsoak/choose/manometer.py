"""What readings of a manometer mean: lock-up, flow pressure, creep and a timed pressure drop.

Every answer says what can be concluded and what cannot. A change that a warming or cooling pipe
can explain is called neither a leak nor a pass.
"""

from dataclasses import dataclass
from typing import Literal, NamedTuple

from coldsoak.physics.closedvolume import (
    Shut,
    escaping,
    temperature_doubt,
    unexplained_change,
    warming_that_explains,
)

Conclusion = Literal[
    "good", "too high", "too low", "leak", "no loss found", "creeps", "fed", "cannot tell"
]
"""What a reading allows to conclude."""


class Meaning(NamedTuple):
    """A conclusion, its reasons, and what to do next."""

    conclusion: Conclusion
    says: tuple[str, ...]
    next: tuple[str, ...]


SHUT_OFF = "Close the cylinder, and have a licensed person mend it before it is used again."

SOAP = "Search every joint with soap solution; bubbles that grow are a leak, however small."

AGAIN = (
    "Repeat it with the pipe in the shade and at rest, with a thermometer on the pipe at both "
    "readings."
)


def lock_up(reading: float, setting: float, limit: float, doubt: float) -> Meaning:
    """What the pressure with nothing burning says [Pa gauge].

    `limit` is the highest lock-up over the setting, `doubt` that of the gauge [Pa].
    """
    if reading - doubt > limit * setting:
        why = "the regulator does not close: its seat or its setting is at fault"
        return Meaning("too high", (f"Lock-up is above its limit: {why}.",), (SHUT_OFF,))
    if reading + doubt > limit * setting:
        return Meaning(
            "cannot tell",
            ("The reading is at the limit within what the gauge can show.",),
            ("Repeat it with a finer gauge.",),
        )
    if reading + doubt < setting:
        return Meaning(
            "too low",
            (
                "With nothing burning the pressure is above the setting. Below it gas still flows, "
                "the setting is low, or no gas gets to the regulator.",
            ),
            ("Close every burner and pilot and read again; look at the cylinder valve.", SOAP),
        )
    return Meaning(
        "good",
        ("The regulator closes and holds. Whether it goes on holding a second reading tells.",),
        ("Read again after 5 minutes (creep), then with everything burning (flow).",),
    )


@dataclass(frozen=True)
class FlowLimits:
    """Pressures between which flow pressure is good [Pa gauge], and the doubt of the gauge [Pa]."""

    setting: float
    least: float
    most: float
    doubt: float


def flow_pressure(reading: float, limits: FlowLimits) -> Meaning:
    """What the pressure at an appliance says while everything burns [Pa gauge]."""
    if reading - limits.doubt > limits.most:
        return Meaning(
            "too high",
            (
                "The regulator is set too high or does not regulate: flames lift, turn yellow or "
                "soot.",
            ),
            (SHUT_OFF,),
        )
    if reading + limits.doubt < limits.least:
        return Meaning(
            "too low",
            (
                "Too little pressure for the appliance. A cold cylinder, a narrow or kinked line, "
                "a second regulator, a frozen or worn regulator, or more burning than it passes.",
            ),
            (
                "Burn one appliance alone: good then, it is line or regulator; bad still, it is "
                "the cylinder, the regulator, or that appliance's own line.",
                "`coldsoak lines` says what every section costs.",
            ),
        )
    if reading - limits.doubt < limits.least or reading + limits.doubt > limits.most:
        return Meaning(
            "cannot tell",
            ("The reading is at a limit within what the gauge can show.",),
            ("Repeat it with a finer gauge.",),
        )
    return Meaning("good", ("Pressure at flow is what the appliance is made for.",), ())


class DropRule(NamedTuple):
    """A timed test by its rule; see ``rig/catalogue/pressure_tests.toml``. [Pa], [s], [m3]"""

    name: str
    start: float
    time: float
    loss: float
    doubt: float
    settle: float
    volume: float


class Timed(NamedTuple):
    """Two readings of gas that is shut in."""

    before: Shut
    after: Shut
    seconds: float
    gauge_doubt: float
    """Of one reading [Pa]."""
    warming_doubt: float
    """Of the change of temperature [K]."""
    barometer_doubt: float
    """Of the change of the air's pressure [Pa]."""


class Corrected(NamedTuple):
    """The change that temperature does not explain, and its doubt [Pa]."""

    change: float
    doubt: float
    explained_by: float
    """Warming that would explain the whole change [K]."""


def corrected(timed: Timed) -> Corrected:
    """Take the change of temperature out of two readings; doubts add up in the worst way."""
    doubt = 2.0 * timed.gauge_doubt + timed.barometer_doubt
    doubt += temperature_doubt(timed.before, timed.warming_doubt)
    return Corrected(
        unexplained_change(timed.before, timed.after),
        doubt,
        warming_that_explains(timed.before, timed.after.gauge),
    )


def shortcomings(timed: Timed, rule: DropRule, volume: float | None, settled: float) -> list[str]:
    """What of the rule's conditions was not kept, in words."""
    short = []
    if timed.before.gauge + timed.gauge_doubt < rule.start:
        short.append("the pressure at the start was below what the rule asks")
    if timed.seconds < rule.time - 0.5:
        short.append("the time between the readings was shorter than the rule asks")
    if settled < rule.settle - 0.5:
        short.append("the pressure did not stand long enough before the first reading")
    if rule.volume > 0.0 and volume is not None and volume < rule.volume:
        short.append("the test volume was smaller than the rule asks")
    return short


def pressure_drop(timed: Timed, rule: DropRule, short: list[str]) -> Meaning:
    """What a timed pressure-drop test allows to conclude."""
    found = corrected(timed)
    if found.change + found.doubt < -rule.loss:
        return Meaning(
            "leak",
            ("Pressure was lost that neither temperature nor the gauge explains.",),
            ("Close the cylinder.", SOAP, SHUT_OFF),
        )
    if found.change - found.doubt > rule.doubt:
        return Meaning(
            "fed",
            ("Pressure rose that warming does not explain: a closed valve lets gas by.",),
            ("Close the cylinder valve as well and repeat it; a valve that lets by is replaced.",),
        )
    if short:
        return Meaning("cannot tell", (f"No pass, because {'; '.join(short)}.",), (AGAIN, SOAP))
    lost = found.change - found.doubt < -rule.loss if rule.loss > 0.0 else False
    if found.doubt > rule.doubt or lost:
        return Meaning(
            "cannot tell",
            (
                "A warming or cooling pipe, or the gauge, can explain as much as the test looks "
                "for: neither a leak nor a pass.",
            ),
            (AGAIN, SOAP),
        )
    return Meaning(
        "no loss found",
        (
            "No loss within what this test can see; a smaller leak may be there all the same, and "
            "joints before the closed valve were not tested.",
        ),
        (SOAP,),
    )


def creep(timed: Timed, setting: float, limit: float, seen: float) -> Meaning:
    """What two lock-up readings say, nothing burning between them [Pa gauge].

    `limit` is the highest lock-up over the setting, `seen` the rise that must be seen [Pa].
    """
    found = corrected(timed)
    if found.change - found.doubt > 0.0:
        return Meaning(
            "creeps",
            ("Pressure rises that warming does not explain: the seat lets gas by.",),
            (SHUT_OFF,),
        )
    if timed.after.gauge - timed.gauge_doubt > limit * setting:
        return Meaning(
            "cannot tell",
            ("Above the limit, but warmed gas that is shut in would rise as much.",),
            ("Light a burner for a moment, put it out, and read lock-up again.",),
        )
    if timed.after.gauge > timed.before.gauge + 2.0 * timed.gauge_doubt:
        return Meaning(
            "cannot tell",
            ("The rise is no larger than a warming pipe explains: neither creep nor a pass.",),
            (AGAIN,),
        )
    if found.doubt > seen:
        return Meaning(
            "cannot tell",
            ("No rise, but a cooling pipe could hide one as large as the reading looks for.",),
            (AGAIN,),
        )
    return Meaning("good", ("Lock-up holds: no rise beyond what the gauge can show.",), ())


def leak_rate(found: Corrected, timed: Timed, volume: float) -> tuple[float, float]:
    """Gas lost [mol/s] in a test volume [m3]: as found, and the most that the doubt leaves."""
    least = escaping(volume, found.change, timed.seconds, timed.after.temperature)
    most = escaping(volume, found.change - found.doubt, timed.seconds, timed.after.temperature)
    return least, most
