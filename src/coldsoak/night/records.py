"""What the march takes: small tables of records in SI units, with no file and no user word.

Every table is a one-dimensional record array (numpy.recarray) of the type described here; what a
trip has once is a table of one row. Compiled code reads a record's field as fast as a local
variable. Index conventions: ``c`` counts cylinders in the order of the trip file, ``b`` burners,
``k`` fuel components (:data:`coldsoak.physics.fuel.COMPONENTS`), ``n`` rows of the weather table.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coldsoak.physics.compiled import compiled
from coldsoak.physics.fuel import N_COMPONENTS
from coldsoak.physics.vessel import LEVELS

Floats: TypeAlias = NDArray[np.float64]
Integers: TypeAlias = NDArray[np.int64]
Switches: TypeAlias = NDArray[np.bool_]
Record: TypeAlias = Any
"""One row of a table; its fields are attributes."""
Table: TypeAlias = Any
"""A record array."""

WEATHER = np.dtype(
    [
        ("seconds", "f8"),  # since the start, increasing, the first row at or before 0 [s]
        ("air", "f8"),  # [K]
        ("wind", "f8"),  # as reported [m/s]
        ("vapor_pressure", "f8"),  # of water [Pa]
        ("sky", "f8"),  # effective temperature [K]
        ("sun_window", "f8"),  # irradiance on a vertical window, mean of orientations [W/m2]
    ]
)
"""Weather at the place, linear between rows."""

CYLINDER = np.dtype(
    [
        ("moles", "f8", (N_COMPONENTS,)),  # contents at the start [mol]
        ("temperature", "f8"),  # of the contents at the start [K]
        ("volume", "f8"),  # water capacity [m3]
        ("levels", "f8", (LEVELS, 3)),  # physics.vessel.level_table
        ("area", "f8"),  # whole wall [m2]
        ("wall_capacity", "f8"),  # heat capacity of the wall per area [J/m2K]
        ("upright", "?"),
        ("height", "f8"),  # length of the body along its axis [m]
        ("diameter", "f8"),  # outside [m]
        ("thickness", "f8"),  # of the wall [m]
        ("conductivity", "f8"),  # of the wall [W/mK]
        ("emissivity", "f8"),
        ("absorptivity", "f8"),
        ("sky_view", "f8"),  # share of the surroundings that is sky
        ("cover", "f8"),  # resistance of cover, locker or blanket [m2K/W]
        ("wind_factor", "f8"),  # wind at the wall over wind as reported
        ("heater", "f8"),  # power [W]
        ("heater_below", "f8"),  # the heater runs below this liquid temperature [K]
        ("side", "i8"),  # 0 connected on the supply side, 1 on the reserve side, -1 not
    ]
)
"""A cylinder: body, place, contents."""

SUPPLY = np.dtype(
    [
        ("minimum", "f8"),  # least absolute pressure at the regulator's inlet [Pa]
        ("changeover", "f8"),  # absolute pressure of the supply side that opens the reserve [Pa]
        ("station_pressure", "f8"),  # of the air [Pa]
    ]
)
"""What stands between the cylinders and the burners."""

BURNER = np.dtype(
    [
        ("heat", "f8"),  # gross input at this altitude when burning [W]
        ("room_share", "f8"),  # share of the gross heat that reaches the room
        ("thermostat", "?"),  # whether a thermostat starts and stops it, else its orders do
        ("set_point", "f8"),  # at the start [K]
        ("differential", "f8"),  # full width of the hysteresis [K]
        ("minimum_on", "f8"),  # [s]
        ("minimum_off", "f8"),  # [s]
        ("purge", "f8"),  # blower time before the gas valve opens [s]
        ("tries", "i8"),  # trials for ignition before lock-out
        ("retry_wait", "f8"),  # between trials [s]
    ]
)
"""An appliance."""

CABIN = np.dtype(
    [
        ("light_capacity", "f8"),  # air and light things [J/K]
        ("heavy_capacity", "f8"),  # [J/K]
        ("coupling", "f8"),  # between the two [W/K]
        ("ua_air", "f8"),  # to the outside air [W/K]
        ("ua_ground", "f8"),  # to the ground [W/K]
        ("ground", "f8"),  # temperature of the ground [K]; NaN follows the air
        ("leakage_area", "f8"),  # effective [m2]
        ("wind_factor", "f8"),  # wind at the shelter over wind as reported
        ("sun_aperture", "f8"),  # window area times solar heat gain coefficient [m2]
        ("people", "f8"),  # sensible heat of the people [W]
        ("temperature", "f8"),  # of both nodes at the start [K]
    ]
)
"""The heated shelter as two nodes: air with light things, and heavy things."""

ORDER = np.dtype(
    [
        ("seconds", "f8"),  # when, sorted
        ("what", "i8"),  # one of the ORDER_ numbers
        ("which", "i8"),  # a burner, or for a change of cylinders the one taken off
        ("value", "f8"),  # on (1) or off (0), the set point [K], or the cylinder put on
    ]
)
"""What happens at a set time."""

ORDER_BURNER = 0
ORDER_SET_POINT = 1
ORDER_SWAP = 2


class Night(NamedTuple):
    """Everything the march needs to know."""

    length: float
    """[s]"""
    weather: Table
    """WEATHER[n]"""
    sun: Floats
    """Mean irradiance over the whole surface of each cylinder at its place, float64[c, n]
    [W/m2]."""
    cylinders: Table
    """CYLINDER[c]"""
    supply: Table
    """SUPPLY[1]"""
    burners: Table
    """BURNER[b]"""
    cabin: Table
    """CABIN[1]"""
    heated: bool
    """Whether there is a shelter; without one thermostats call all the time."""
    orders: Table
    """ORDER[...]"""


def table(kind: np.dtype[np.void], columns: Mapping[str, Any], rows: int) -> Table:
    """Record array of ``kind`` with ``rows`` rows from its columns; none may be missing."""
    made = np.recarray(rows, dtype=kind)
    for name in kind.names or ():
        made[name] = columns[name]
    return made


@compiled
def find_row(weather: Table, seconds: float, row: int) -> int:
    """Weather row whose stretch begins at or before ``seconds``, searched from ``row`` on."""
    while row + 2 < weather.size and weather[row + 1].seconds <= seconds:
        row += 1
    return row


@compiled
def part_of_row(weather: Table, row: int, seconds: float) -> float:
    """How far ``seconds`` lies between ``row`` (0) and the next (1)."""
    begin = weather[row].seconds
    return (seconds - begin) / (weather[row + 1].seconds - begin)
