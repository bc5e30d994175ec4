"""A burner's true input: from weighed loss over time, or from its orifice; and its plate."""

import math
from typing import Literal, NamedTuple

import numpy as np

from coldsoak.choose.lay_lines import GAS_TEMPERATURE
from coldsoak.physics import fuel, orifice
from coldsoak.physics.combustion import (
    STANDARD_PRESSURE,
    altitude_factor,
    code_altitude_factor,
    gross_heating_value,
)
from coldsoak.physics.pipe import Gas, density, gas_at
from coldsoak.physics.pipecode import HEATING_VALUE
from coldsoak.rig.trip import Fractions

Fit = Literal["fits", "over", "under", "cannot tell"]
"""How a true input stands to the plate."""


class Input(NamedTuple):
    """A gross heat input [W] with its two ends."""

    value: float
    low: float
    high: float


def by_weight(start: Input, end: Input, seconds: Input, doubt: float, mixture: Fractions) -> Input:
    """Input from the mass before and after [kg] and the time it burned [s].

    `doubt` is that of one weighing [kg]. What leaves a cylinder is its vapor, lighter than what is
    in it; the heat per kilogram of the two differs by less than 1 %.
    """
    heat = gross_heating_value(np.array(mixture))
    lost = start.value - end.value
    least = max(start.low - end.high - 2.0 * doubt, 0.0)
    most = start.high - end.low + 2.0 * doubt
    return Input(
        heat * lost / seconds.value, heat * least / seconds.high, heat * most / seconds.low
    )


class OrificeInput(NamedTuple):
    """The input that an orifice gives at an elevation."""

    code: float
    """By the code's orifice formula, at sea level [W]."""
    code_here: float
    """The same derated by the code's rule [W]."""
    physics: float
    """By Bernoulli with the real gas at this elevation [W]."""


def by_orifice(
    area: float,
    pressure: float,
    discharge: float,
    mixture: Fractions,
    elevation: float,
    station: float,
) -> OrificeInput:
    """Input of orifices of a total area [m2] at a gauge pressure [Pa].

    The code's formula takes the specific gravity of propane, 1.5, and the heating value that its
    tables stand for; physics takes the gas that boils off `mixture` at the station's pressure.
    """
    volume = orifice.code_orifice_flow(area, pressure, discharge, orifice.CODE_GRAVITY)
    gas = vapor_of(mixture)
    before = density(gas, station + pressure)
    return OrificeInput(
        code=volume * HEATING_VALUE,
        code_here=volume * HEATING_VALUE * code_altitude_factor(elevation),
        physics=orifice.orifice_flow(area, discharge, before, pressure) * gas.heat,
    )


def vapor_of(mixture: Fractions) -> Gas:
    """The vapor that boils off a mixture, at the temperature of lines."""
    vapor = np.empty(fuel.N_COMPONENTS)
    fuel.bubble_pressure(GAS_TEMPERATURE, np.array(mixture), vapor)
    return gas_at(GAS_TEMPERATURE, vapor)


def orifice_area(diameter: float, count: int) -> float:
    """Area [m2] of `count` round holes of a diameter [m]."""
    return count * math.pi / 4.0 * diameter**2


class Plate(NamedTuple):
    """What the plate's input comes to at an elevation [W]."""

    sea_level: float
    code: float
    physics: float


def plate_at(plate: float, elevation: float, station: float) -> Plate:
    """The plate's input at sea level, by the code's derating and by a fixed orifice's physics."""
    return Plate(plate, plate * code_altitude_factor(elevation), plate * altitude_factor(station))


def fit_of(found: Input, plate: Plate, tolerance: float) -> Fit:
    """Whether an input agrees with the plate within a share, seen in the doubt of the input.

    Over is what passes the plate at sea level too; between the code's derated input and that of
    physics nothing is called wrong.
    """
    high = (1.0 + tolerance) * max(plate.physics, plate.code)
    low = (1.0 - tolerance) * min(plate.physics, plate.code)
    if found.low > high:
        return "over"
    if found.high < low:
        return "under"
    return "fits" if low <= found.low and found.high <= high else "cannot tell"


def sea_level(found: float, station: float) -> float:
    """What a fixed orifice that gives an input [W] under a station pressure gives at sea level."""
    return found * math.sqrt(STANDARD_PRESSURE / station)
