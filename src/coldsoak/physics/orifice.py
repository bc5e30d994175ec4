"""Gas through a hole: burner orifices, regulator seats and bypass holes.

A burner's orifice sees little pressure, so Bernoulli's equation with a discharge coefficient is
enough; a regulator's seat sees the cylinder's pressure and is a nozzle that may choke.
"""

import math

from coldsoak.physics.compiled import compiled

CODE_DISCHARGE = 0.9
"""Discharge coefficient of the code's orifice tables (NFPA 54 annex E)."""

CODE_GRAVITY = 1.5
"""Specific gravity of propane vapor in those tables."""

ISENTROPIC_EXPONENT = 1.13
"""cp/cv of propane vapor at 15 C (NIST values, from memory); butane has 1.09."""

_INCH, _FOOT, _HOUR, _INCH_OF_WATER = 0.0254, 0.3048, 3600.0, 249.082
_SOUND = (2.0 / (ISENTROPIC_EXPONENT + 1.0)) ** (ISENTROPIC_EXPONENT / (ISENTROPIC_EXPONENT - 1.0))


@compiled
def code_orifice_flow(area: float, pressure: float, discharge: float, gravity: float) -> float:
    """Standard volume [m3/s] through a burner orifice by the code's formula.

    Q = 1658.5 K A sqrt(h / SG) with A [in2], h [in of water], Q [ft3/h] (NFPA 54 annex E);
    `area` [m2], `pressure` at the orifice [Pa gauge], specific gravity against air.

    >>> drill_80 = math.pi / 4 * (0.0135 * 0.0254) ** 2
    >>> round(code_orifice_flow(drill_80, 11 * 249.082, 0.9, 1.5) / 0.3048**3 * 3600, 3)
    0.579
    """
    height = pressure / _INCH_OF_WATER
    flow = 1658.5 * discharge * area / _INCH**2 * math.sqrt(height / gravity)
    return flow * _FOOT**3 / _HOUR


@compiled
def orifice_flow(area: float, discharge: float, density: float, drop: float) -> float:
    """Mass flow [kg/s] through a hole [m2] under a small pressure drop [Pa] (Bernoulli).

    `density` [kg/m3] is that of the gas before the hole; drops up to 5 % of its pressure.
    """
    return discharge * area * math.sqrt(2.0 * density * max(drop, 0.0))


@compiled
def nozzle_flux(density: float, inlet: float, outlet: float) -> float:
    """Mass flow per open area [kg/(s m2)] of a nozzle between two absolute pressures [Pa].

    Isentropic flow of an ideal gas (Shapiro 1953, ch. 4), choked below 0.58 of the inlet
    pressure; `density` [kg/m3] is that at the inlet. Zero without a pressure difference.

    >>> nozzle_flux(2.0, 1e5, 1e5)
    0.0
    """
    if inlet <= 0.0 or outlet >= inlet:
        return 0.0
    k = ISENTROPIC_EXPONENT
    ratio = max(outlet / inlet, _SOUND)
    push = ratio ** (2.0 / k) - ratio ** ((k + 1.0) / k)
    return math.sqrt(2.0 * k / (k - 1.0) * density * inlet * push)
