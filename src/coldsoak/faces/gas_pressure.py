"""Gas pressures as gauges show them: inches of water and psi, or kPa."""

from coldsoak.rig.units import show

INCH_OF_WATER = 0.249082
"""[kPa]"""

LOW = 15.0
"""Below this gauge pressure people read inches of water [kPa]."""


def gas_pressure(kilopascals: float | None, units: str) -> str:
    """A gauge pressure [kPa], "none" where there is none.

    >>> gas_pressure(2.74, "us"), gas_pressure(2.74, "si"), gas_pressure(69.0, "us")
    ('11.0 inH2O', '2.74 kPa', '10.0 psi')
    """
    if kilopascals is None:
        return "none"
    if abs(kilopascals) >= LOW:
        return show(1000.0 * kilopascals, "gauge_pressure", units)
    return small_pressure(kilopascals, units)


def small_pressure(kilopascals: float | None, units: str) -> str:
    """A small difference of pressures [kPa], "" where there is none.

    >>> small_pressure(0.1245, "us"), small_pressure(None, "us")
    ('0.50 inH2O', '')
    """
    if kilopascals is None:
        return ""
    if units == "us":
        digits = 1 if kilopascals > 1.0 else 2
        return f"{kilopascals / INCH_OF_WATER:.{digits}f} inH2O"
    return f"{kilopascals:.{2 if kilopascals > 1.0 else 3}f} kPa"
