"""The smallest changes after which every appliance has the pressure it needs."""

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from coldsoak.choose.line_faults import Placed, is_second, placed_regulators
from coldsoak.choose.lines_answer import Mend
from coldsoak.choose.loaded import Loaded, load, pipe_drops
from coldsoak.rig.inlet import usual_need
from coldsoak.rig.line_steps import shorter, wider, wider_quick_connect, with_fewer_fittings
from coldsoak.rig.route import pressure_before
from coldsoak.rig.trip import Appliance, Line, Trip
from coldsoak.rig.units import parse, show

MOST_STEPS = 12
"""Changes that a combination may have."""

LARGER = (1.25, 1.6, 2.0, 2.5, 4.0)
"""Capacities that are tried for a regulator or connector, over what it has now."""


class Change(NamedTuple):
    """One change in words, and the trip after it."""

    what: str
    trip: Trip


def mends_of(trip: Trip, loaded: Loaded) -> tuple[Mend, ...]:
    """Single changes that feed everything, the smallest first; else one combination, if any."""
    if not loaded.starved:
        return ()
    station, inlet = loaded.tree.station, loaded.inlet
    single = [change for change in changes(trip) if not load(change.trip, station, inlet).starved]
    if single:
        return tuple(_mend([change], station, inlet) for change in _smallest(single))
    combined = _combined(trip, loaded)
    return (_mend(combined, station, inlet),) if combined else ()


def _smallest(single: list[Change]) -> list[Change]:
    """The changes without those that only do more of the same."""
    kept: dict[str, Change] = {}
    for change in single:
        kept.setdefault(change.what.split(":")[0], change)
    return list(kept.values())


def _mend(made: list[Change], station: float, inlet: float) -> Mend:
    """A change with the inlet pressures after it."""
    after = load(made[-1].trip, station, inlet)
    return Mend(
        what=tuple(change.what for change in made),
        inlet_kPa={
            appliance.name: float(after.left[end.section] - station) / 1000.0
            for appliance, end in zip(made[-1].trip.appliances, after.tree.ends, strict=True)
        },
    )


def changes(trip: Trip) -> Iterator[Change]:
    """Every single step of the catalogue, from what costs least to what costs most."""
    yield from _without_second_regulators(trip)
    for line in trip.lines:
        for name, fewer, changed in with_fewer_fittings(line):
            yield Change(f"{line.name}: {fewer} {name} fewer", _with_line(trip, line, changed))
    for line in trip.lines:
        changed_line = shorter(line)
        if changed_line is not None:
            words = f"{line.name} shorter: {length_of(changed_line)}"
            yield Change(words, _with_line(trip, line, changed_line))
    for line in trip.lines:
        yield from _larger_quick_connect(trip, line)
    for line in trip.lines:
        changed_line = wider(line)
        if changed_line is not None:
            words = f"{line.name} wider: {changed_line.size}"
            yield Change(words, _with_line(trip, line, changed_line))
    yield from _larger_supply(trip)


def length_of(line: Line) -> str:
    """Length of a line in both systems of units."""
    return f"{line.length:.2f} m ({line.length / 0.3048:.1f} ft)"


def _with_line(trip: Trip, old: Line, new: Line) -> Trip:
    return replace(trip, lines=tuple(new if line is old else line for line in trip.lines))


def _without_second_regulators(trip: Trip) -> Iterator[Change]:
    """Every second regulator behind a regulated outlet removed, one at a time."""
    for placed in placed_regulators(trip):
        if is_second(placed):
            yield without_regulator(trip, placed)


def without_regulator(trip: Trip, placed: Placed) -> Change:
    """The trip without one regulator; the appliances behind it need what is before it then."""
    if isinstance(placed.owner, Line):
        bare = _with_line(trip, placed.owner, replace(placed.owner, regulator=None))
        words = f"{placed.where}: a line without the second regulator"
    else:
        bare = trip
        words = f"{placed.where}: without its own regulator (a hose without one, or removed by a "
        words += "licensed person)"
    appliances = tuple(_fitted(bare, appliance, placed) for appliance in bare.appliances)
    return Change(words, replace(bare, appliances=appliances))


def _fitted(trip: Trip, appliance: Appliance, placed: Placed) -> Appliance:
    """An appliance after a regulator is gone."""
    if appliance is placed.owner:
        before = pressure_before(appliance.name, trip.lines, trip.supply)
        needs = parse(usual_need(before).value, "gauge_pressure")
        return replace(appliance, regulator=None, needs=needs)
    return appliance


def _larger_quick_connect(trip: Trip, line: Line) -> Iterator[Change]:
    if line.quick_connect is not None:
        larger = wider_quick_connect(line.quick_connect)
        if larger is not None:
            words = f"{line.name} with a quick-connect of {larger.name}"
            yield Change(words, _with_line(trip, line, replace(line, quick_connect=larger)))


def _larger_supply(trip: Trip) -> Iterator[Change]:
    """A larger connector, and a first regulator of a larger capacity."""
    supply = trip.supply
    for factor in LARGER:
        if supply.connector is not None:
            trip_flow = factor * supply.connector.trip
            larger = replace(supply.connector, trip=trip_flow)
            words = f"a connector that closes later: at {show(trip_flow, 'gas_rate')}"
            yield Change(words, replace(trip, supply=replace(supply, connector=larger)))
    for factor in LARGER:
        if supply.device is not None:
            capacity = factor * supply.device.capacity
            device = replace(supply.device, capacity=capacity)
            words = f"a first regulator of a larger capacity: {show(capacity, 'gas_rate')}"
            yield Change(words, replace(trip, supply=replace(supply, device=device)))


def _combined(trip: Trip, loaded: Loaded) -> list[Change]:
    """Second regulators out, then the line that takes most wider, again and again; [] if no use."""
    made: list[Change] = []
    for placed in placed_regulators(trip):
        if is_second(placed):
            now = made[-1].trip if made else trip
            here = next(p for p in placed_regulators(now) if p.where == placed.where)
            made.append(without_regulator(now, here))
    while len(made) < MOST_STEPS:
        now = made[-1].trip if made else trip
        state = load(now, loaded.tree.station, loaded.inlet)
        if not state.starved:
            return made
        step = _widest_step(now, state)
        if step is None:
            return []
        made.append(step)
    return []


def _widest_step(trip: Trip, loaded: Loaded) -> Change | None:
    """The line that takes most pressure, one size wider; None if none can be."""
    by_drop = sorted(trip.lines, key=lambda line: -_drop(loaded, line))
    for line in by_drop:
        changed = wider(line)
        if changed is not None and _drop(loaded, line) > 0.0:
            return Change(f"{line.name} wider: {changed.size}", _with_line(trip, line, changed))
    return None


def _drop(loaded: Loaded, line: Line) -> float:
    """The greater drop of a line's pipe [Pa]; the most where no gas gets there at all."""
    section = len(loaded.tree.owner) - 1 - loaded.tree.owner[::-1].index(line.name)
    drops = pipe_drops(loaded, section)
    return float("inf") if drops is None else max(drops)
