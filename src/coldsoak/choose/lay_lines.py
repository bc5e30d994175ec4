"""From the lines of a trip to the tree of sections that the physics of gas flow takes."""

import math
from typing import Any, NamedTuple

import numpy as np

from coldsoak.errors import TripError
from coldsoak.physics import fuel, gasflow
from coldsoak.physics.combustion import STANDARD_PRESSURE, altitude_factor
from coldsoak.physics.excessflow import trip_strength
from coldsoak.physics.pipe import Gas, density, gas_at
from coldsoak.physics.pipecode import HIGH_PRESSURE
from coldsoak.physics.regulator import seat_area
from coldsoak.rig.route import CYLINDER, REGULATOR
from coldsoak.rig.trip import Appliance, Fractions, Line, QuickConnect, Regulator, Trip

GAS_TEMPERATURE = 288.7
"""Temperature of the gas in the lines [K]: 60 F, that of the codes' tables.

Gas in a cold line is denser and thinner and loses less, so this errs on the safe side.
"""

FIRST_OF_TWO_DROOP = 0.2
"""Droop of the first of two stages in one body, share of the pressure between them (common
practice, no source)."""

NO_LOSS = {
    "parent": -1,
    "length": 0.0,
    "diameter": 0.01,
    "roughness": 0.0,
    "least_friction": 0.0,
    "resistance": 0.0,
    "code_diameter": 0.01,
    "high_pressure": False,
    "regulated": False,
    "setting": 0.0,
    "droop": 1.0,
    "seat": math.inf,
    "inlet_effect": 0.0,
    "reference": 0.0,
    "minimum": 0.0,
    "trip": math.inf,
}
"""A section in which nothing stands."""

Row = dict[str, Any]


class Tree(NamedTuple):
    """The lines of a trip for coldsoak.physics.gasflow."""

    sections: gasflow.Table
    """SECTION[s]"""
    ends: gasflow.Table
    """END[b], in the order of the trip's appliances."""
    gas: Gas
    station: float
    """Pressure of the outside air [Pa]."""
    own: float
    """The first regulator's least absolute inlet pressure [Pa]."""
    owner: tuple[str, ...]
    """For each section, the name of its line, "connector", "regulator", or an appliance."""


def line_gas(worst: Fractions) -> Gas:
    """The vapor in the lines: what boils off the worst mixture of the grade."""
    vapor = np.empty(fuel.N_COMPONENTS)
    fuel.bubble_pressure(GAS_TEMPERATURE, np.array(worst), vapor)
    return gas_at(GAS_TEMPERATURE, vapor)


def lay_lines(trip: Trip, station: float) -> Tree:
    """Lay the lines of a trip out; `station` is the pressure of the outside air [Pa]."""
    gas = line_gas(trip.fuel.worst)
    builder = _Builder(gas, station)
    builder.connector(trip)
    builder.pending = list(trip.lines)
    builder.lead_from(CYLINDER)
    builder.first_regulator(trip)
    builder.lead_from(REGULATOR)
    ends = [builder.end(appliance) for appliance in trip.appliances]
    factor = altitude_factor(station)
    return Tree(
        sections=_table(gasflow.SECTION, builder.rows),
        ends=_table(
            gasflow.END,
            [
                {**end, "flow": factor * appliance.input / gas.heat}
                for end, appliance in zip(ends, trip.appliances, strict=True)
            ],
        ),
        gas=gas,
        station=station,
        own=station + trip.supply.minimum_inlet,
        owner=tuple(builder.owners),
    )


def _table(kind: np.dtype[np.void], rows: list[Row]) -> gasflow.Table:
    """A record array of rows that name every column."""
    made = np.recarray(len(rows), dtype=kind)
    for index, row in enumerate(rows):
        for name in kind.names or ():
            made[index][name] = row[name]
    return made


class _Builder:
    """Sections one behind the other: which one ends at each place, and at what pressure."""

    def __init__(self, gas: Gas, station: float) -> None:
        self.gas = gas
        self.station = station
        self.rows: list[Row] = []
        self.owners: list[str] = []
        self.pending: list[Line] = []
        self.ending: dict[str, int] = {CYLINDER: -1}
        self.set_to: dict[str, float] = {CYLINDER: math.inf}

    def add(self, parent: int, owner: str, **what: Any) -> int:
        """A section behind another; gives its number."""
        self.rows.append({**NO_LOSS, "parent": parent, **what})
        self.owners.append(owner)
        return len(self.rows) - 1

    def connector(self, trip: Trip) -> None:
        """The excess-flow connector at the cylinder, before everything."""
        if trip.supply.connector is not None:
            rated = trip.supply.connector.trip / self.gas.heat
            self.ending[CYLINDER] = self.add(
                -1, "connector", trip=trip_strength(self.gas, rated), high_pressure=True
            )

    def first_regulator(self, trip: Trip) -> None:
        """The supply's regulator, at the cylinder or at the end of the line that leads to it."""
        inlet = self.ending.get(REGULATOR, self.ending[CYLINDER])
        supply = trip.supply
        if supply.device is None:
            ideal = {"setting": supply.outlet, "minimum": self.station + supply.minimum_inlet}
            self.ending[REGULATOR] = self.add(inlet, "regulator", regulated=True, **ideal)
        else:
            minimum = self.station + supply.minimum_inlet
            self.ending[REGULATOR] = self.stages(inlet, "regulator", supply.device, minimum)
        self.set_to[REGULATOR] = supply.outlet

    def stages(
        self, parent: int, owner: str, regulator: Regulator, minimum: float = 0.0, **pipe: Any
    ) -> int:
        """The one or two stages of a regulator, the last one with a pipe behind it.

        `minimum` is its least absolute inlet pressure [Pa].
        """
        between = regulator.rated_inlet
        if regulator.intermediate is not None and regulator.between is not None:
            between = max(regulator.between, 0.5 * (regulator.rated_inlet + regulator.outlet))
            setting = max(regulator.intermediate, between)
            first = {
                "setting": setting,
                "droop": FIRST_OF_TWO_DROOP * setting,
                "seat": self.seat(regulator, regulator.rated_inlet, between),
                "minimum": minimum,
            }
            minimum = 0.0
            parent = self.add(parent, owner, regulated=True, **first)
        last = {
            "setting": regulator.outlet,
            "droop": regulator.droop,
            "seat": self.seat(regulator, between, max(regulator.outlet - regulator.droop, 0.0)),
            "inlet_effect": regulator.inlet_effect,
            "reference": regulator.reference,
            "minimum": minimum,
        }
        return self.add(parent, owner, regulated=True, **last, **pipe)

    def seat(self, regulator: Regulator, inlet: float, outlet: float) -> float:
        """Area of a seat that passes the capacity between gauge pressures at sea level [m2]."""
        if regulator.backward:
            return 0.0
        flow = regulator.capacity / self.gas.heat
        return seat_area(self.gas, flow, STANDARD_PRESSURE + inlet, STANDARD_PRESSURE + outlet)

    def lead_from(self, place: str) -> None:
        """Lay the lines that begin at a place, and those behind them."""
        for line in [each for each in self.pending if each.start == place]:
            self.pending.remove(line)
            self.line(line)
            if line.end != REGULATOR:
                self.lead_from(line.end)

    def line(self, line: Line) -> None:
        """A line: its quick-connect, its regulator, its pipe."""
        parent, set_to = self.ending[line.start], self.set_to[line.start]
        lost = _resistance(self.gas, line.quick_connect)
        if line.regulator is not None:
            if line.quick_connect is not None:
                parent = self.add(parent, line.name, resistance=lost)
            set_to, lost = line.regulator.outlet, 0.0
        pipe = {
            "length": line.length + line.fittings_length,
            "diameter": line.diameter,
            "roughness": line.roughness,
            "least_friction": line.friction,
            "resistance": lost,
            "code_diameter": line.code_diameter,
            "high_pressure": set_to >= HIGH_PRESSURE,
        }
        if line.regulator is not None:
            at = self.stages(parent, line.name, line.regulator, **pipe)
        else:
            at = self.add(parent, line.name, **pipe)
        self.ending[line.end], self.set_to[line.end] = at, set_to

    def end(self, appliance: Appliance) -> Row:
        """Where an appliance hangs, behind its own regulator if it has one, and what it needs."""
        at = self.ending.get(appliance.name, self.ending[REGULATOR])
        own = appliance.regulator
        before = {"before": at, "needs_before": own.minimum_inlet if own else appliance.needs}
        section = at if own is None else self.stages(at, appliance.name, own)
        return {"section": section, "needs": appliance.needs, **before}


def _resistance(gas: Gas, outlet: QuickConnect | None) -> float:
    """Resistance [1/m4] of a quick-connect that takes its drop at its rating."""
    if outlet is None:
        return 0.0
    flow = outlet.rating / gas.heat
    return 2.0 * density(gas, STANDARD_PRESSURE) * outlet.drop / flow**2


def needs_no_tree(trip: Trip) -> bool:
    """Whether the first regulator's own minimum is all that any set of burners needs."""
    supply = trip.supply
    return (
        not trip.lines
        and supply.device is None
        and supply.connector is None
        and all(a.regulator is None and a.needs < supply.outlet for a in trip.appliances)
    )


def requirements_of(trip: Trip, station: float) -> gasflow.Requirements:
    """What every combination of lit burners needs of the cylinder.

    Rows are numbered by the bit mask of lit appliances in the order of the trip. Where lines lose
    nothing there is one row for all masks, so the row of a mask is ``mask & (rows - 1)``.

    Raises
    ------
    TripError
        More appliances than a table over all combinations can hold, and lines that matter.
    """
    if needs_no_tree(trip):
        nothing = np.zeros(1, np.int64)
        own = station + trip.supply.minimum_inlet
        return gasflow.Requirements(np.array([own]), nothing, nothing.copy())
    if len(trip.appliances) > gasflow.MOST_BURNERS:
        raise TripError(
            f"found {len(trip.appliances)} appliances and lines",
            f"the gas in lines is computed for at most {gasflow.MOST_BURNERS} appliances: join "
            "those that burn together, or leave out the lines",
            file=None if trip.path is None else str(trip.path),
        )
    tree = lay_lines(trip, station)
    return gasflow.requirement_table(tree.sections, tree.ends, tree.gas, station, tree.own)
