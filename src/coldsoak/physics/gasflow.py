"""A tree of gas lines from the cylinder to every burner, everything that is lit burning at once.

The tree is a table of sections, each behind its parent. In a section the gas meets, in this
order, an excess-flow connector, a regulator stage, and a pipe with its fittings; what is not there
loses nothing. Burners hang at the ends of sections and take a fixed flow, the most that they ask
for: a burner that gets too little pressure would take less, so what is said of the others is on
the safe side.

Two questions are answered. Forward: with this pressure in the cylinder, which pressure is left at
every node? Backward: what is the least pressure in the cylinder that leaves every lit burner what
it needs? With fixed flows the backward answer needs no iteration over the tree: the need at a node
is the greatest of the needs behind it.

Every pipe is computed by Darcy's law (coldsoak.physics.pipe) and by the fuel-gas code's equation
(coldsoak.physics.pipecode); the greater loss counts.

`station` is the pressure of the outside air [Pa], every other pressure is absolute.
"""

import math
from typing import Any, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coldsoak.physics.compiled import compiled
from coldsoak.physics.excessflow import trip_flow
from coldsoak.physics.pipe import Gas, Pipe, end_pressure, pressure_of_density, start_pressure
from coldsoak.physics.pipecode import high_pressure_squares, low_pressure_drop
from coldsoak.physics.regulator import HIGHEST_INLET, Stage, least_inlet, outlet_pressure

Floats: TypeAlias = NDArray[np.float64]
Integers: TypeAlias = NDArray[np.int64]
Table: TypeAlias = Any
"""A record array."""

SECTION = np.dtype(
    [
        ("parent", "i8"),  # section it begins at the end of; -1 at the cylinder; always smaller
        ("length", "f8"),  # of pipe, equivalent length of fittings included [m]
        ("diameter", "f8"),  # hydraulic, inside [m]
        ("roughness", "f8"),  # [m]
        ("least_friction", "f8"),  # friction factor of a corrugated wall, else 0
        ("resistance", "f8"),  # of what has no length [1/m4]
        ("code_diameter", "f8"),  # diameter for the code's equation [m]
        ("high_pressure", "?"),  # whether the code's equation for 1.5 psi or more applies
        ("regulated", "?"),  # whether a regulator stage stands at its beginning
        ("setting", "f8"),  # of the stage, see coldsoak.physics.regulator.Stage
        ("droop", "f8"),
        ("seat", "f8"),
        ("inlet_effect", "f8"),
        ("reference", "f8"),
        ("minimum", "f8"),  # least absolute inlet pressure of the stage by its maker [Pa]
        ("trip", "f8"),  # strength of an excess-flow connector; infinite without one
    ]
)
"""A stretch of line; sections are sorted so that a parent comes before its children."""

END = np.dtype(
    [
        ("section", "i8"),  # the section at whose end the burner hangs
        ("flow", "f8"),  # that it takes when lit [kg/s]
        ("needs", "f8"),  # least gauge pressure there [Pa]
        ("before", "i8"),  # the section before its own regulator; else the same
        ("needs_before", "f8"),  # least gauge pressure there [Pa]
    ]
)
"""A burner at the end of a line, behind a regulator of its own if it has one."""

NO_CAUSE, LINE_LIMITED, REGULATOR_LIMITED, EXCESS_FLOW = 0, 1, 2, 3
"""What asks for more pressure than the supply regulator's own minimum."""

MOST_BURNERS = 10
"""A table over all combinations has two to this power rows."""

NEAR = 1.0
"""Pressures closer than this are taken as equal [Pa]."""

WORTH_BLAMING = 0.1
"""What asks for less than this share more than the regulator's own minimum is not blamed: the
cylinder is too cold, not the line too narrow."""


class Requirements(NamedTuple):
    """What every combination of lit burners needs; the index is a bit mask of burners."""

    least_inlet: Floats
    """Least absolute pressure in the cylinder [Pa]; infinite where none is enough."""
    cause: Integers
    """NO_CAUSE where the regulator's own minimum decides; else what asks for clearly more."""
    starved: Integers
    """Bit mask of the burners that get too little, where there is a cause: at the regulator's own
    minimum or, where no pressure is enough, at HIGHEST_INLET."""


@compiled
def _pipe(section: Table) -> Pipe:
    """The pipe of a section."""
    return Pipe(
        section.length,
        section.diameter,
        section.roughness,
        section.least_friction,
        section.resistance,
    )


@compiled
def _fitting(section: Table) -> Pipe:
    """The part of a section that has no length."""
    return Pipe(0.0, section.diameter, 0.0, 0.0, section.resistance)


@compiled
def stage_of(section: Table) -> Stage:
    """The regulator stage of a section."""
    return Stage(
        section.setting, section.droop, section.seat, section.inlet_effect, section.reference
    )


@compiled
def code_start(section: Table, gas: Gas, flow: float, end: float) -> float:
    """Pressure [Pa] at the start of a section's pipe by the fuel-gas code's equation."""
    end = start_pressure(gas, _fitting(section), flow, end)
    heat = flow * gas.heat
    if section.high_pressure:
        squares = high_pressure_squares(heat, section.code_diameter, section.length)
        return math.sqrt(end * end + squares)
    return end + low_pressure_drop(heat, section.code_diameter, section.length)


@compiled
def code_end(section: Table, gas: Gas, flow: float, start: float) -> float:
    """Pressure [Pa] at the end of a section's pipe by the code's equation; 0 if nothing is left."""
    heat = flow * gas.heat
    if section.high_pressure:
        left = start * start
        left -= high_pressure_squares(heat, section.code_diameter, section.length)
        end = math.sqrt(max(left, 0.0))
    else:
        end = max(start - low_pressure_drop(heat, section.code_diameter, section.length), 0.0)
    return end_pressure(gas, _fitting(section), flow, end)


@compiled
def darcy_start(section: Table, gas: Gas, flow: float, end: float) -> float:
    """Pressure [Pa] at the start of a section's pipe by Darcy's law."""
    return start_pressure(gas, _pipe(section), flow, end)


@compiled
def darcy_end(section: Table, gas: Gas, flow: float, start: float) -> float:
    """Pressure [Pa] at the end of a section's pipe by Darcy's law; 0 if it cannot pass the flow."""
    return end_pressure(gas, _pipe(section), flow, start)


@compiled
def _need_at_start(section: Table, gas: Gas, station: float, flow: float, end: float) -> float:
    """Pressure [Pa] needed where a section begins; infinite where no pressure is enough."""
    if end == math.inf:
        return end
    need = max(darcy_start(section, gas, flow, end), code_start(section, gas, flow, end))
    if section.regulated:
        need = least_inlet(gas, stage_of(section), station, need, flow)
        need = max(need, section.minimum)
    if section.trip < math.inf:
        need = max(need, pressure_of_density(gas, (flow / section.trip) ** 2))
    return need if need <= HIGHEST_INLET else math.inf


@compiled
def section_flows(sections: Table, ends: Table, lit: int, flow: Floats) -> None:
    """Fill `flow` with the flow of every section [kg/s] for a bit mask of lit burners."""
    flow[:] = 0.0
    for b in range(ends.size):
        if lit >> b & 1:
            flow[ends[b].section] += ends[b].flow
    for s in range(sections.size - 1, -1, -1):
        if sections[s].parent >= 0:
            flow[sections[s].parent] += flow[s]


@compiled
def least_supply(
    sections: Table,
    ends: Table,
    gas: Gas,
    station: float,
    lit: int,
    flow: Floats,
    need: Floats,
) -> float:
    """Least absolute pressure [Pa] in the cylinder with which every lit burner gets what it needs.

    Infinite where none up to HIGHEST_INLET does. `flow` and `need`, one entry for each section,
    are filled with its flow [kg/s] and the pressure needed at its end [Pa].
    """
    section_flows(sections, ends, lit, flow)
    need[:] = 0.0
    for b in range(ends.size):
        if lit >> b & 1 and ends[b].flow > 0.0:
            end = ends[b]
            need[end.section] = max(need[end.section], station + end.needs)
            need[end.before] = max(need[end.before], station + end.needs_before)
    least = 0.0
    for s in range(sections.size - 1, -1, -1):
        if flow[s] > 0.0:
            start = _need_at_start(sections[s], gas, station, flow[s], need[s])
            if sections[s].parent < 0:
                least = max(least, start)
            else:
                need[sections[s].parent] = max(need[sections[s].parent], start)
    return least


@compiled
def _left_at_end(section: Table, gas: Gas, station: float, flow: float, start: float) -> float:
    """Pressure [Pa] left at the end of a section; 0 where it cannot pass its flow."""
    if flow > 0.0 and start > 0.0 and flow > trip_flow(gas, section.trip, start):
        return 0.0
    if section.regulated:
        start = outlet_pressure(gas, stage_of(section), station, start, flow)
    return min(darcy_end(section, gas, flow, start), code_end(section, gas, flow, start))


@compiled
def node_pressures(
    sections: Table, gas: Gas, station: float, inlet: float, flow: Floats, left: Floats
) -> None:
    """Fill `left` with the absolute pressure [Pa] at the end of every section.

    `inlet` is the absolute pressure in the cylinder [Pa], `flow` that of section_flows. Zero
    stands for a place that cannot get its flow: the burners behind it take less and burn badly or
    not at all.
    """
    for s in range(sections.size):
        parent = sections[s].parent
        start = inlet if parent < 0 else left[parent]
        left[s] = _left_at_end(sections[s], gas, station, flow[s], start)


@compiled
def starving(ends: Table, station: float, lit: int, left: Floats) -> int:
    """Bit mask of the lit burners with less than they need, after node_pressures."""
    short = 0
    for b in range(ends.size):
        if lit >> b & 1 and ends[b].flow > 0.0:
            behind = left[ends[b].section] - station - ends[b].needs
            before = left[ends[b].before] - station - ends[b].needs_before
            if min(behind, before) < -NEAR:
                short |= 1 << b
    return short


def without_pipes(sections: Table) -> Table:
    """The same tree with lines that lose nothing."""
    bare = sections.copy()
    bare["length"] = 0.0
    bare["resistance"] = 0.0
    return bare


def without_connectors(sections: Table) -> Table:
    """The same tree without excess-flow connectors."""
    bare = sections.copy()
    bare["trip"] = math.inf
    return bare


@compiled
def _blame(whole: float, no_connectors: float, no_pipes: float, own: float) -> int:
    """Which part asks for more than `own`: the one without which half of the excess is gone."""
    half = HIGHEST_INLET if whole == math.inf else own + 0.5 * (whole - own)
    if no_connectors <= half and no_connectors <= no_pipes:
        return EXCESS_FLOW
    return LINE_LIMITED if no_pipes <= half else REGULATOR_LIMITED


@compiled
def _fill_table(
    sections: Table,
    no_connectors: Table,
    no_pipes: Table,
    ends: Table,
    gas: Gas,
    station: float,
    own: float,
    out: Requirements,
) -> None:
    """Fill the three columns for every combination of burners."""
    flow = np.zeros(sections.size)
    left = np.zeros(sections.size)
    for lit in range(out.cause.size):
        whole = least_supply(sections, ends, gas, station, lit, flow, left)
        out.least_inlet[lit] = max(whole, own)
        out.cause[lit] = NO_CAUSE
        out.starved[lit] = 0
        if whole > own + WORTH_BLAMING * (own - station) + NEAR:
            eased = least_supply(no_connectors, ends, gas, station, lit, flow, left)
            wide = least_supply(no_pipes, ends, gas, station, lit, flow, left)
            out.cause[lit] = _blame(whole, eased, wide, own)
            at = HIGHEST_INLET if whole == math.inf else own
            node_pressures(sections, gas, station, at, flow, left)
            out.starved[lit] = starving(ends, station, lit, left)


def requirement_table(
    sections: Table, ends: Table, gas: Gas, station: float, own: float
) -> Requirements:
    """What every combination of lit burners needs of the cylinder.

    Parameters
    ----------
    sections : SECTION[s]
        The tree, parents before children.
    ends : END[b]
        The burners, at most MOST_BURNERS; burner b is bit b of every mask.
    gas : Gas
        The vapor at the temperature of the lines.
    station : float
        Pressure of the outside air [Pa].
    own : float
        The supply regulator's own least absolute inlet pressure [Pa]; no row asks for less, the
        row of no burner included.

    Raises
    ------
    ValueError
        More than MOST_BURNERS burners.
    """
    if ends.size > MOST_BURNERS:
        raise ValueError(f"{ends.size} burners, at most {MOST_BURNERS}")
    rows = 1 << ends.size
    out = Requirements(np.empty(rows), np.empty(rows, np.int64), np.empty(rows, np.int64))
    bare = (without_connectors(sections), without_pipes(sections))
    _fill_table(sections, *bare, ends, gas, station, own, out)
    return out
