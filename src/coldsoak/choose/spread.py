"""The answer as a range, where inputs are ranges or unknown, and which one to measure first."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from coldsoak.choose.answer import Range, UncertainInput, Verdict
from coldsoak.choose.run import first_failure, left
from coldsoak.choose.verdict import decide
from coldsoak.rig.read import settle
from coldsoak.rig.trip import Level, Trip
from coldsoak.weather.read import weather_of

RANK: dict[Verdict, int] = {"fails": 0, "thin": 1, "holds": 2}


class Brief(NamedTuple):
    """What one choice of the uncertain inputs leads to."""

    verdict: Verdict
    failure_hours: float | None
    margin: float
    """Least pressure above the regulator's need while feeding [Pa]; infinite if none fed."""
    left_kg: float

    def order(self) -> tuple[float, ...]:
        """Larger is better: verdict, then a later failure, more margin, more left."""
        later = float("inf") if self.failure_hours is None else self.failure_hours
        return (RANK[self.verdict], later, self.margin, self.left_kg)


def brief(trip: Trip, levels: Mapping[str, Level]) -> Brief:
    """Decide a trip with its uncertain inputs at ``levels``."""
    settled = settle(trip, levels)
    decided = decide(settled, weather_of(settled))
    outcome = decided.nominal.outcome
    first = first_failure(outcome)
    margins = outcome.books.lowest_margin
    return Brief(
        decided.verdict,
        None if first is None else first[0] / 3600.0,
        float(np.min(margins[np.isfinite(margins)], initial=np.inf)),
        float(left(outcome).sum()),
    )


def spread_of(trip: Trip) -> Range | None:
    """Range of the answer over the uncertain inputs of a trip, None if it has none.

    Every input is taken to both its ends with the others at their middle, all of them are taken at
    their middle, and all of them together to the ends that are worse, and to those that are better.
    """
    if not trip.uncertain:
        return None
    ends = {
        each.key: (brief(trip, {each.key: "low"}), brief(trip, {each.key: "high"}))
        for each in trip.uncertain
    }
    worse: dict[str, Level] = {
        key: "low" if low.order() <= high.order() else "high" for key, (low, high) in ends.items()
    }
    better: dict[str, Level] = {
        key: "high" if level == "low" else "low" for key, level in worse.items()
    }
    found = [end for both in ends.values() for end in both]
    found += [brief(trip, {}), brief(trip, worse), brief(trip, better)]
    hours = [each.failure_hours for each in found]
    failing = [hour for hour in hours if hour is not None]
    return Range(
        best=max(found, key=Brief.order).verdict,
        worst=min(found, key=Brief.order).verdict,
        earliest_failure_hours=min(failing, default=None),
        latest_failure_hours=None if None in hours else max(failing),
        least_left_kg=min(each.left_kg for each in found),
        most_left_kg=max(each.left_kg for each in found),
        inputs=tuple(
            UncertainInput(
                key=each.key,
                low=each.low,
                high=each.high,
                verdict_at_low=ends[each.key][0].verdict,
                verdict_at_high=ends[each.key][1].verdict,
                failure_hours_at_low=ends[each.key][0].failure_hours,
                failure_hours_at_high=ends[each.key][1].failure_hours,
                left_kg_at_low=ends[each.key][0].left_kg,
                left_kg_at_high=ends[each.key][1].left_kg,
            )
            for each in trip.uncertain
        ),
        measure_first=measure_first(ends, trip.length / 3600.0),
    )


def measure_first(ends: Mapping[str, tuple[Brief, Brief]], hours: float) -> str | None:
    """Key of the input whose two ends lead farthest apart: verdict, failure, fuel left.

    ``hours`` is the length of the trip; no failure counts as one at its end.
    """

    def apart(key: str) -> tuple[float, float, float]:
        low, high = ends[key]
        times = [hours if e.failure_hours is None else e.failure_hours for e in (low, high)]
        return (
            abs(RANK[low.verdict] - RANK[high.verdict]),
            abs(times[0] - times[1]),
            abs(low.left_kg - high.left_kg),
        )

    key = max(ends, key=apart)
    return key if max(apart(key)) > 0.0 else None
