"""Gas shut in between closed valves: what its pressure does without any leak.

A pressure-drop test listens to the pressure of gas that nobody may add to or take from. Its
absolute pressure follows its absolute temperature (ideal gas): one kelvin moves a line at
atmospheric pressure by 0.35 kPa (1.4 inH2O), more than the loss that such a test looks for.
Absolute temperatures [K] and pressures [Pa] throughout; gauge pressures are named so.
"""

from typing import NamedTuple

from coldsoak.physics.fuel import GAS_CONSTANT


class Shut(NamedTuple):
    """Gas between closed valves at one moment."""

    gauge: float
    """Gauge pressure [Pa]."""
    temperature: float
    """[K]"""
    station: float
    """Pressure of the outside air [Pa]."""


def explained_gauge(before: Shut, temperature: float, station: float) -> float:
    """Gauge pressure [Pa] that the same gas would show at another temperature and air pressure.

    >>> before = Shut(1992.7, 293.15, 101_325.0)           # 8 inH2O
    >>> round((explained_gauge(before, 292.15, 101_325.0) - 1992.7) / 249.082, 2)   # 1 K colder
    -1.41
    """
    return (before.gauge + before.station) * temperature / before.temperature - station


def unexplained_change(before: Shut, after: Shut) -> float:
    """Change of gauge pressure [Pa] that temperature and air pressure do not explain."""
    return after.gauge - explained_gauge(before, after.temperature, after.station)


def warming_that_explains(before: Shut, gauge: float) -> float:
    """Rise of temperature [K] that would explain a gauge pressure [Pa] with no gas lost or won."""
    ratio = (gauge + before.station) / (before.gauge + before.station)
    return before.temperature * (ratio - 1.0)


def temperature_doubt(before: Shut, doubt: float) -> float:
    """Change of pressure [Pa] that a doubt about the change of temperature [K] stands for."""
    return (before.gauge + before.station) * doubt / before.temperature


def escaping(volume: float, change: float, seconds: float, temperature: float) -> float:
    """Gas that escapes [mol/s] when pressure in a volume [m3] changes by `change` [Pa].

    Ideal gas; negative where gas is fed in.
    """
    return -change * volume / (GAS_CONSTANT * temperature * seconds)
