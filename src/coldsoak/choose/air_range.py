"""The air as a range, where inputs of the trip file are ranges or unknown."""

from collections.abc import Mapping

from coldsoak.choose.air_answer import Apart, Spread
from coldsoak.choose.air_run import AirRun, air_run
from coldsoak.rig.read import settle
from coldsoak.rig.trip import Level, Trip, Uncertain
from coldsoak.weather.read import weather_of

Ends = tuple[AirRun, AirRun]


def at(trip: Trip, levels: Mapping[str, Level]) -> AirRun:
    """The air with uncertain inputs at some levels."""
    settled = settle(trip, levels)
    weather = weather_of(settled)
    return air_run(settled, weather, weather)


def apart(each: Uncertain, ends: Ends, panes: bool) -> Apart:
    """What the two ends of an input come to."""
    low, high = (end.book for end in ends)
    return Apart(
        key=each.key,
        low=each.low,
        high=each.high,
        highest_co2_ppm_at_low=1e6 * low.highest_co2,
        highest_co2_ppm_at_high=1e6 * high.highest_co2,
        window_wet_hours_at_low=low.window_wet / 3600.0 if panes else None,
        window_wet_hours_at_high=high.window_wet / 3600.0 if panes else None,
    )


def weight(ends: Ends) -> tuple[float, float]:
    """How far the two ends lead apart: carbon dioxide, then hours of wet windows."""
    low, high = (end.book for end in ends)
    return abs(low.highest_co2 - high.highest_co2), abs(low.window_wet - high.window_wet)


def spread_of(trip: Trip) -> Spread | None:
    """The air at both ends of every uncertain input, the others at their middle; None of none."""
    if not trip.uncertain:
        return None
    ends: dict[str, Ends] = {
        each.key: (at(trip, {each.key: "low"}), at(trip, {each.key: "high"}))
        for each in trip.uncertain
    }
    worst: dict[str, Level] = {
        key: "low" if low.book.highest_co2 >= high.book.highest_co2 else "high"
        for key, (low, high) in ends.items()
    }
    best: dict[str, Level] = {
        key: "high" if level == "low" else "low" for key, level in worst.items()
    }
    heights = [end.book.highest_co2 for both in ends.values() for end in both]
    heights += [at(trip, levels).book.highest_co2 for levels in (worst, best)]
    panes = trip.shelter is not None and trip.shelter.window is not None
    first = max(ends, key=lambda key: weight(ends[key]))
    return Spread(
        least_co2_ppm=1e6 * min(heights),
        most_co2_ppm=1e6 * max(heights),
        inputs=tuple(apart(each, ends[each.key], panes) for each in trip.uncertain),
        measure_first=first if max(weight(ends[first])) > 0.0 else None,
    )
