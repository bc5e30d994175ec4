"""Quantities as they stand on the sheet, in the units a person asked for."""

from coldsoak.rig.units import dimensions, scale, show

FREEZING = 273.15


def _plain(text: str) -> str:
    """Write degrees as people do."""
    return text.replace("degC", "°C").replace("degF", "°F")


def mass(kilograms: float, units: str) -> str:
    """Mass of fuel [kg].

    >>> mass(9.0718474, "us")
    '20.0 lb'
    """
    return show(kilograms, "mass", units)


def celsius(temperature: float, units: str) -> str:
    """Temperature [degC], to the whole degree: no more is known of a night ahead.

    >>> celsius(-20.04, "us"), celsius(-0.2, "si")
    ('-4 °F', '0 °C')
    """
    number, unit = show(temperature + FREEZING, "temperature", units).split()
    return _plain(f"{round(float(number)) + 0} {unit}")


def kilopascals(gauge: float, units: str) -> str:
    """Gauge pressure or difference of pressures [kPa].

    >>> kilopascals(34.4738, "us")
    '5.0 psi'
    """
    return show(gauge * 1000.0, "gauge_pressure", units)


def watts(power: float, units: str) -> str:
    """Power [W] to three digits.

    >>> watts(4689.0, "us"), watts(4689.0, "si")
    ('16000 Btu/h', '4690 W')
    """
    number, unit = show(power, "power", units).split(maxsplit=1)
    return f"{float(f'{float(number):.3g}'):.0f} {unit}"


def power_unit(units: str) -> tuple[str, float]:
    """Name of the unit of power that is shown, and what it is worth [W].

    >>> power_unit("si")
    ('W', 1.0)
    """
    name = dimensions()["power"].faces[units][0]
    return name, scale(name, "power").factor


def elevation(meters: float, units: str) -> str:
    """Elevation [m]."""
    return show(meters, "elevation", units)
