"""What is wrong between the cylinder and the burners, why it fails, and what to use instead."""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from coldsoak.choose.lines_answer import Fault, FaultCode
from coldsoak.choose.loaded import Loaded, fed_share
from coldsoak.physics import gasflow
from coldsoak.rig.route import CYLINDER, REGULATOR, path_to
from coldsoak.rig.trip import Appliance, Line, Regulator, Supply, Trip
from coldsoak.rig.units import show

BTU_PER_HOUR = 0.29307107
"""[W], International Table."""

LICENSED = "Work on fixed piping and regulators belongs to a licensed person."

SHUT_OFF = "Close the cylinder until a licensed person has put it right."


class Placed(NamedTuple):
    """A regulator where it stands: the place, its line or appliance, and what stands before it."""

    where: str
    regulator: Regulator
    before: tuple[Regulator, ...]
    """From the cylinder on."""
    owner: Line | Appliance | Supply


def placed_regulators(trip: Trip) -> list[Placed]:
    """Every regulator of a trip with the regulators before it."""
    first = trip.supply.device
    found = [] if first is None else [Placed(REGULATOR, first, (), trip.supply)]
    for line in trip.lines:
        if line.regulator is not None:
            at_supply = line.start in (CYLINDER, REGULATOR)
            path = [] if at_supply else path_to(line.start, trip.lines)
            before = _before(trip, path, line.start)
            found.append(Placed(line.name, line.regulator, before, line))
    for appliance in trip.appliances:
        if appliance.regulator is not None:
            before = _before(trip, path_to(appliance.name, trip.lines), REGULATOR)
            found.append(Placed(appliance.name, appliance.regulator, before, appliance))
    return found


def _before(trip: Trip, path: list[Line], start: str) -> tuple[Regulator, ...]:
    """The regulators on a path that begins at `start` if it is empty."""
    begin = path[0].start if path else start
    first = () if begin == CYLINDER or trip.supply.device is None else (trip.supply.device,)
    return first + tuple(line.regulator for line in path if line.regulator is not None)


def is_second(placed: Placed) -> bool:
    """Whether a regulator stands behind an outlet that is regulated already, and should not."""
    if not placed.before:
        return False
    last = placed.before[-1]
    behind_first_stage = placed.regulator.belongs == "first stage" and last.kind == "first-stage"
    return not behind_first_stage


def faults_of(trip: Trip, loaded: Loaded) -> tuple[Fault, ...]:
    """Everything that is wrong, most urgent first."""
    placed = placed_regulators(trip)
    return (
        *_no_regulator(trip),
        *_first_stage_missing(placed),
        *_backward(placed),
        *_reversed_stages(placed),
        *_second_regulators(trip, placed, loaded),
        *_excess_flow(trip, loaded),
        *_overloaded_quick_connects(trip, loaded),
        *_overloaded_regulators(placed, loaded),
        *_narrow_lines(trip, placed, loaded),
    )


def _fault(code: FaultCode, where: str, why: str, instead: str) -> Fault:
    return Fault(code=code, where=where, why=why, instead=instead)


def heat(watts: float) -> str:
    """A gas flow to three digits in both systems of units."""
    rounded = float(f"{watts / BTU_PER_HOUR:.3g}"), float(f"{watts:.3g}")
    return "{:.0f} Btu/h ({:.0f} W)".format(*rounded)


def pressure(pascals: float) -> str:
    """A small gauge pressure in both systems of units."""
    return f"{pascals / 249.082:.1f} inH2O ({pascals / 100.0:.1f} mbar)"


def psi(pascals: float) -> str:
    """A large gauge pressure in both systems of units."""
    both = (show(pascals, "gauge_pressure", units) for units in ("us", "si"))
    return "{} ({})".format(*both)


def _no_regulator(trip: Trip) -> Iterator[Fault]:
    """Appliances on a line from the cylinder with no regulator anywhere."""
    for appliance in trip.appliances:
        path = path_to(appliance.name, trip.lines)
        bare = bool(path) and path[0].start == CYLINDER
        if bare and appliance.regulator is None and not any(line.regulator for line in path):
            yield _fault(
                "no-regulator",
                appliance.name,
                "it stands at cylinder pressure with no regulator between: hundreds of times what "
                "its burner is made for",
                f"Use a hose with the regulator that its maker names. {SHUT_OFF}",
            )


def _first_stage_missing(placed: list[Placed]) -> Iterator[Fault]:
    """Second stages at cylinder pressure, with no first stage behind them either."""
    for each in placed:
        reversed_order = any(each.regulator in other.before for other in placed)
        if each.regulator.belongs == "first stage" and not each.before and not reversed_order:
            yield _fault(
                "first-stage-missing",
                each.where,
                f"a second stage is made for at most {psi(each.regulator.inlet_limit)} at its "
                "inlet, and here it has the cylinder's whole pressure",
                f"Use a two-stage regulator, or put a first stage before it. {SHUT_OFF}",
            )


def _backward(placed: list[Placed]) -> Iterator[Fault]:
    """Regulators fitted against their arrow."""
    for each in placed:
        if each.regulator.backward:
            yield _fault(
                "fitted-backward",
                each.where,
                "the pressure stands on the side of its spring and holds the seat shut; the "
                "diaphragm may be hurt",
                f"Replace it and fit the new one in the direction of its arrow. {SHUT_OFF}",
            )


def _reversed_stages(placed: list[Placed]) -> Iterator[Fault]:
    """First stages behind what should stand behind them."""
    for each in placed:
        if each.regulator.kind == "first-stage" and each.before:
            ahead = each.before[-1]
            limit = psi(ahead.inlet_limit)
            why = (
                f"it gets {pressure(ahead.outlet)} where it is made to give "
                f"{psi(each.regulator.outlet)}, so it regulates nothing and only takes pressure"
            )
            if ahead.belongs == "first stage":
                why += f"; and the {ahead.kind} before it has more than its {limit} at its inlet"
            yield _fault(
                "reversed-first-stage",
                each.where,
                why,
                f"The first stage stands at the cylinder, the second behind it. {SHUT_OFF}",
            )


def _second_regulators(trip: Trip, placed: list[Placed], loaded: Loaded) -> Iterator[Fault]:
    """Regulators behind a regulated outlet, with how little gets through."""
    for each in placed:
        if is_second(each) and each.regulator.kind != "first-stage":
            yield _fault(
                "second-regulator",
                each.where,
                f"a second regulator ({each.regulator.kind}) behind an outlet that is regulated to "
                f"{pressure(each.before[-1].outlet)} already: its seat is made for cylinder "
                f"pressure and passes little at that{_what_gets_through(trip, each, loaded)}",
                "Exchange the hose for one without a regulator, or have a licensed person remove "
                "it if the appliance's maker allows it at this pressure.",
            )


def _what_gets_through(trip: Trip, placed: Placed, loaded: Loaded) -> str:
    """How much gas the appliances behind a regulator get, in words."""
    told = []
    for index, appliance in enumerate(trip.appliances):
        path = path_to(appliance.name, trip.lines)
        if placed.owner is appliance or any(line is placed.owner for line in path):
            share = fed_share(loaded, index)
            asked = float(loaded.tree.ends[index].flow) * loaded.tree.gas.heat
            if share < 1.0:
                told.append(
                    f"; {appliance.name} gets {heat(share * asked)} of {heat(asked)} at the "
                    "pressure it needs"
                )
    return "".join(told)


def _excess_flow(trip: Trip, loaded: Loaded) -> Iterator[Fault]:
    """A connector that closes when everything burns at this cylinder pressure."""
    connector = trip.supply.connector
    if connector is None or not _closed(loaded):
        return
    cold = psi(loaded.inlet - loaded.tree.station)
    yield _fault(
        "excess-flow",
        "connector",
        f"everything together takes {heat(loaded.flow[0] * loaded.tree.gas.heat)}; a connector of "
        f"{heat(connector.trip)} closes earlier when the cylinder is cold and its vapor thin (here "
        f"{cold}) and then passes about {heat(connector.bypass)}",
        "Light one burner after the other, burn less at once, or have the connector and pigtail "
        "exchanged for ones of a larger flow. To open it again close every burner and the "
        "cylinder, wait, and open the cylinder slowly.",
    )


def _overloaded_quick_connects(trip: Trip, loaded: Loaded) -> Iterator[Fault]:
    """Quick-connects that carry more than they are made for."""
    for line in trip.lines:
        if line.quick_connect is None:
            continue
        through = loaded.flow[loaded.tree.owner.index(line.name)] * loaded.tree.gas.heat
        if through > line.quick_connect.rating:
            yield _fault(
                "quick-connect-overloaded",
                line.name,
                f"{heat(through)} through a quick-connect of {line.quick_connect.name}, which is "
                f"made for {heat(line.quick_connect.rating)}: its drop grows with the square",
                "Use a larger quick-connect, or a smaller appliance at this outlet.",
            )


def _overloaded_regulators(placed: list[Placed], loaded: Loaded) -> Iterator[Fault]:
    """Regulators whose capacity is less than what everything behind them takes."""
    for each in placed:
        if is_second(each) or each.regulator.backward:
            continue
        sections = [i for i, owner in enumerate(loaded.tree.owner) if owner == each.where]
        through = max(float(loaded.flow[i]) for i in sections) * loaded.tree.gas.heat
        if through > each.regulator.capacity:
            yield _fault(
                "regulator-overloaded",
                each.where,
                f"everything behind it takes {heat(through)}; it passes "
                f"{heat(each.regulator.capacity)} at its least inlet pressure",
                f"A regulator of a larger capacity, or fewer burners at once. {LICENSED}",
            )


def _narrow_lines(trip: Trip, placed: list[Placed], loaded: Loaded) -> Iterator[Fault]:
    """Appliances that starve and would not if the lines lost nothing, or if only others burned."""
    wrong = {each.where for each in placed if is_second(each) or each.regulator.backward}
    without = starved_without_lines(loaded)
    for index, appliance in enumerate(trip.appliances):
        path = path_to(appliance.name, trip.lines)
        places = {line.name for line in path} | {appliance.name, REGULATOR}
        if not loaded.starved >> index & 1 or places & wrong or _closed(loaded):
            continue
        if without >> index & 1:
            yield _fault(
                "regulator-too-low",
                appliance.name,
                f"even lines that lose nothing would not bring it {pressure(appliance.needs)}: "
                "the regulator before it gives less with everything burning",
                f"A regulator that fits the appliance's pressure and the load. {LICENSED}",
            )
        else:
            names = ", ".join(line.name for line in path)
            yield _fault(
                "line-too-narrow",
                appliance.name,
                f"with everything burning less than {pressure(appliance.needs)} is left at the "
                f"end of {names}",
                f"See what mends it below. {LICENSED}",
            )


def starved_without_lines(loaded: Loaded) -> int:
    """Bit mask of the burners that would starve if lines lost nothing."""
    tree = loaded.tree
    bare, left = gasflow.without_pipes(tree.sections), np.zeros(tree.sections.size)
    gasflow.node_pressures(bare, tree.gas, tree.station, loaded.inlet, loaded.flow, left)
    lit = (1 << tree.ends.size) - 1
    return int(gasflow.starving(tree.ends, tree.station, lit, left))


def _closed(loaded: Loaded) -> bool:
    """Whether the excess-flow connector has closed."""
    return loaded.tree.owner[0] == "connector" and loaded.left[0] <= 0.0
