"""What the units of the published tables are worth in SI units."""

from coldsoak.rig.units import scale

POUND = scale("lb", "mass").factor
"""[kg]"""
OUNCE = POUND / 16.0
"""[kg]"""
GALLON = scale("gal", "volume").factor
"""US gallon [m3]"""
INCH = scale("in", "length").factor
"""[m]"""
CUBIC_FOOT = scale("ft", "length").factor ** 3
"""[m3]"""
PSI = scale("psi", "gauge_pressure").factor
"""[Pa]"""
BTU_PER_HOUR = scale("Btu/h", "power").factor
"""[W]"""
BTU = 3600.0 * BTU_PER_HOUR
"""[J]"""
ATMOSPHERE = 101325.0
"""Standard atmosphere, the station pressure of every check [Pa]."""
FREEZING = 273.15
"""0 degC [K]"""

_FAHRENHEIT = scale("degF", "temperature")


def fahrenheit(degrees: float) -> float:
    """Temperature [K] of a reading in degF.

    >>> round(fahrenheit(60.0), 2)
    288.71
    """
    return _FAHRENHEIT.factor * degrees + _FAHRENHEIT.offset


def in_fahrenheit(temperature: float) -> float:
    """Reading in degF of a temperature [K].

    >>> round(in_fahrenheit(231.036), 1)
    -43.8
    """
    return (temperature - _FAHRENHEIT.offset) / _FAHRENHEIT.factor


def psi_gauge(pressure: float) -> float:
    """Reading [psi] of a gauge at sea level on an absolute pressure [Pa]."""
    return (pressure - ATMOSPHERE) / PSI
