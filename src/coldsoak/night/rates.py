"""The rates of all cylinders at one instant, and of the fuel that leaves them.

The state is one vector: :data:`coldsoak.night.cylinder.WIDTH` numbers for each cylinder, and last
the mass of fuel burned since the start [kg].
"""

from coldsoak.night.contents import settle, settle_fully
from coldsoak.night.cylinder import (
    FROST,
    MOLES,
    TEMPERATURE,
    WIDTH,
    cylinder_rates,
    outside_at,
    warmth,
)
from coldsoak.night.records import Floats, Integers, Night, Record, Switches, Table
from coldsoak.night.supply import shares
from coldsoak.physics.combustion import GROSS_HEATING_VALUE
from coldsoak.physics.compiled import compiled
from coldsoak.physics.fuel import MOLAR_MASS, N_COMPONENTS


@compiled
def settle_cylinder(c: int, state: Floats, night: Night, contents: Table) -> None:
    """Split the contents of cylinder ``c`` in ``state``."""
    start = c * WIDTH
    moles = state[start + MOLES : start + MOLES + N_COMPONENTS]
    settle(state[start + TEMPERATURE], moles, night.cylinders[c].volume, contents[c])


@compiled
def settle_cylinder_fully(c: int, state: Floats, night: Night, contents: Table) -> None:
    """:func:`settle_cylinder` without trust in the last split: after a jump, and for the books."""
    start = c * WIDTH
    moles = state[start + MOLES : start + MOLES + N_COMPONENTS]
    settle_fully(state[start + TEMPERATURE], moles, night.cylinders[c].volume, contents[c])


@compiled
def vapor_heat(contents: Record) -> float:
    """Gross heating value of the vapor [J/mol]."""
    heat = 0.0
    for k in range(N_COMPONENTS):
        heat += contents.vapor[k] * GROSS_HEATING_VALUE[k]
    return heat


@compiled
def vapor_mass(contents: Record) -> float:
    """Molar mass of the vapor [kg/mol]."""
    mass = 0.0
    for k in range(N_COMPONENTS):
        mass += contents.vapor[k] * MOLAR_MASS[k]
    return mass


@compiled
def rates_at(
    seconds: float,
    row: int,
    state: Floats,
    night: Night,
    live: Switches,
    side: Integers,
    asked: float,
    contents: Table,
    share: Floats,
    wetted: Floats,
    rates: Floats,
) -> None:
    """Fill ``rates`` with the time derivatives of ``state``.

    Parameters
    ----------
    seconds : float
        Time since the start, within weather rows ``row`` and ``row + 1`` [s].
    state, rates : float64[c * WIDTH + 1]
        See the module's text.
    live : bool[c]
        Which cylinders move; the rates of the others stay as they are.
    side : int64[c]
        Where each cylinder is connected.
    asked : float
        Gross heat of the flames that burn [W].
    contents, share, wetted : CONTENTS[c], float64[c], float64[c]
        Filled on the way: the split, the part of the draw, the wall in touch with the contents
        [m2].
    """
    count = side.size
    for c in range(count):
        if live[c]:
            settle_cylinder(c, state, night, contents)
    if asked > 0.0:
        shares(contents, side, night.supply[0].changeover, share)
    burned = 0.0
    for c in range(count):
        if not live[c]:
            continue
        start = c * WIDTH
        inside = contents[c]
        cylinder = night.cylinders[c]
        outside = outside_at(night, row, seconds, c)
        temperature, frost = state[start + TEMPERATURE], state[start + FROST]
        warm = warmth(temperature, frost, inside.liquid_volume, outside, cylinder)
        wetted[c] = warm.wetted
        draw = 0.0
        if asked > 0.0 and share[c] > 0.0:
            draw = share[c] * asked / vapor_heat(inside)
            burned += draw * vapor_mass(inside)
        own = rates[start : start + WIDTH]
        cylinder_rates(inside, warm, cylinder.wall_capacity, draw, own)
    rates[count * WIDTH] = burned
