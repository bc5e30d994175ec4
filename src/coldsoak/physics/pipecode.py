"""The fuel-gas code's own equations of pressure drop, as sizing tables are made of them.

National Fuel Gas Code (NFPA 54) and International Fuel Gas Code, section 402.4: with flow Q
[ft3/h], length L [ft], inside diameter D [in] and drop dH [in of water] or pressures P [psia]

    low pressure, below 1.5 psi     D = Q^0.381 / (19.17 (dH / (Cr L))^0.206)
    high pressure, 1.5 psi or more  D = Q^0.381 / (18.93 ((P1^2 - P2^2) Y / (Cr L))^0.206)

with Cr = 1.2462 and Y = 0.991 for undiluted propane (from memory; the printed tables are repeated
to 0.7 %). They are fits for turbulent flow, meant for sizing: in small hoses they read up to 2.8
times Darcy's drop.
"""

from coldsoak.physics.compiled import compiled

HEATING_VALUE = 2477.0 * 1055.05585 / 0.3048**3
"""Gross heat [J/m3] of propane as a gas that repeats the printed tables: 2,477 Btu/ft3."""

HIGH_PRESSURE = 1.5 * 6894.757
"""Gauge pressure [Pa] from which the equation for high pressure holds."""

CR, Y = 1.2462, 0.991

_INCH, _FOOT, _HOUR = 0.0254, 0.3048, 3600.0
_INCH_OF_WATER, _PSI = 249.082, 6894.757


@compiled
def _capacity_term(heat: float, diameter: float, constant: float) -> float:
    """(Q^0.381 / (constant D))^(1/0.206) for a gas flow given as gross heat [W]."""
    flow = heat / HEATING_VALUE / _FOOT**3 * _HOUR
    return (flow**0.381 / (constant * diameter / _INCH)) ** (1.0 / 0.206)


@compiled
def low_pressure_drop(heat: float, diameter: float, length: float) -> float:
    """Drop [Pa] below 1.5 psi for gas of a gross heat [W] in an inside diameter and length [m].

    >>> round(low_pressure_drop(291e3 * 0.29307, 0.622 * 0.0254, 10 * 0.3048) / 249.082, 2)
    0.5
    """
    if heat <= 0.0 or length <= 0.0:
        return 0.0
    return _INCH_OF_WATER * CR * length / _FOOT * _capacity_term(heat, diameter, 19.17)


@compiled
def high_pressure_squares(heat: float, diameter: float, length: float) -> float:
    """P1^2 - P2^2 [Pa2] at 1.5 psi or more for a gross heat [W], diameter and length [m]."""
    if heat <= 0.0 or length <= 0.0:
        return 0.0
    return _PSI**2 * CR / Y * length / _FOOT * _capacity_term(heat, diameter, 18.93)


@compiled
def low_pressure_capacity(drop: float, diameter: float, length: float) -> float:
    """Gross heat [W] whose gas loses `drop` [Pa] below 1.5 psi; diameter and length [m]."""
    gradient = drop / _INCH_OF_WATER / (CR * length / _FOOT)
    flow = (19.17 * diameter / _INCH * gradient**0.206) ** (1.0 / 0.381)
    return flow * _FOOT**3 / _HOUR * HEATING_VALUE


@compiled
def high_pressure_capacity(start: float, end: float, diameter: float, length: float) -> float:
    """Gross heat [W] whose gas falls from `start` to `end` [Pa absolute]; lengths [m]."""
    gradient = (start * start - end * end) / _PSI**2 * Y / (CR * length / _FOOT)
    flow = (18.93 * diameter / _INCH * gradient**0.206) ** (1.0 / 0.381)
    return flow * _FOOT**3 / _HOUR * HEATING_VALUE
