"""The lines of a trip with everything burning: flows and pressures at every place."""

from typing import NamedTuple

import numpy as np

from coldsoak.choose.lay_lines import Tree, lay_lines
from coldsoak.errors import TripError
from coldsoak.physics import gasflow
from coldsoak.physics.gasflow import Floats
from coldsoak.physics.regulator import outlet_pressure
from coldsoak.rig.trip import Trip

MOST_BITS = 60
"""Appliances that one mask holds."""

SHARE_STEPS = 20
"""Halvings when the largest share of an input is looked for: to a millionth."""


class Loaded(NamedTuple):
    """A tree with all burners lit."""

    tree: Tree
    inlet: float
    """Absolute pressure in the cylinder [Pa]."""
    flow: Floats
    """Of every section [kg/s]."""
    left: Floats
    """Absolute pressure at the end of every section [Pa]; 0 where the gas cannot get."""
    starved: int
    """Bit mask of the burners with too little pressure."""


def everything(trip: Trip) -> int:
    """The mask of all appliances; raises TripError for more than a mask holds."""
    if len(trip.appliances) > MOST_BITS:
        raise TripError(
            f"found {len(trip.appliances)} appliances",
            f"lines are computed for at most {MOST_BITS}",
            file=None if trip.path is None else str(trip.path),
        )
    return (1 << len(trip.appliances)) - 1


def load(trip: Trip, station: float, inlet: float) -> Loaded:
    """Light everything with an absolute pressure in the cylinder [Pa]."""
    tree, lit = lay_lines(trip, station), everything(trip)
    flow, left = np.zeros(tree.sections.size), np.zeros(tree.sections.size)
    gasflow.section_flows(tree.sections, tree.ends, lit, flow)
    gasflow.node_pressures(tree.sections, tree.gas, station, inlet, flow, left)
    return Loaded(tree, inlet, flow, left, int(gasflow.starving(tree.ends, station, lit, left)))


def least_for_all(loaded: Loaded) -> float:
    """Least absolute pressure in the cylinder that feeds everything [Pa]; infinite if none does."""
    tree = loaded.tree
    scratch = np.zeros(tree.sections.size), np.zeros(tree.sections.size)
    lit = (1 << tree.ends.size) - 1
    least = gasflow.least_supply(tree.sections, tree.ends, tree.gas, tree.station, lit, *scratch)
    return float(max(least, tree.own))


def fed_share(loaded: Loaded, burner: int) -> float:
    """Largest share of a burner's input at which it, alone, has the inlet pressure it needs."""
    tree = loaded.tree
    ends = tree.ends.copy()
    scratch = np.zeros(tree.sections.size), np.zeros(tree.sections.size)

    def fed(share: float) -> bool:
        ends[burner].flow = share * tree.ends[burner].flow
        least = gasflow.least_supply(
            tree.sections, ends, tree.gas, tree.station, 1 << burner, *scratch
        )
        return bool(least <= loaded.inlet + gasflow.NEAR)

    low, high = 0.0, 1.0
    if tree.ends[burner].flow == 0.0 or fed(high):
        return 1.0
    for _ in range(SHARE_STEPS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if fed(middle) else (low, middle)
    return low


def start_of(loaded: Loaded, section: int) -> float:
    """Absolute pressure where a section begins, before its regulator [Pa]."""
    parent = int(loaded.tree.sections[section].parent)
    return loaded.inlet if parent < 0 else float(loaded.left[parent])


def behind_regulator(loaded: Loaded, section: int) -> float:
    """Absolute pressure where a section's pipe begins, behind its regulator [Pa]."""
    start, tree = start_of(loaded, section), loaded.tree
    row = tree.sections[section]
    if not row.regulated or start <= 0.0:
        return start
    stage = gasflow.stage_of(row)
    return float(outlet_pressure(tree.gas, stage, tree.station, start, loaded.flow[section]))


def pipe_drops(loaded: Loaded, section: int) -> tuple[float, float] | None:
    """Drop of a section's pipe [Pa] by Darcy's law and by the code; None where no gas gets."""
    start, tree = behind_regulator(loaded, section), loaded.tree
    row, flow = tree.sections[section], float(loaded.flow[section])
    if start <= 0.0:
        return None
    darcy = gasflow.darcy_end(row, tree.gas, flow, start)
    code = gasflow.code_end(row, tree.gas, flow, start)
    return start - float(darcy), start - float(code)
