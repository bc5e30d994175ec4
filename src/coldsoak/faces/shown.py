"""Quantities as they stand on the sheet, in the units a person asked for."""

from coldsoak.rig.units import UnitsError, dimensions, scale, show, split

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


def restated(text: str, units: str, *, difference: bool = False) -> str:
    """A quantity that is already a text, in the units that are shown; other texts as they are.

    Times stay as they are written: both worlds read seconds and hours.

    Parameters
    ----------
    text : str
        Such as ``"12.04 in"`` or ``"steel"``.
    units : str
        ``"us"`` or ``"si"``.
    difference : bool
        Degrees are a difference of temperatures.

    >>> restated("12.04 in", "si"), restated("-20 degC", "us"), restated("steel", "us")
    ('305.8 mm', '-4 degF', 'steel')
    >>> restated("1 K", "us", difference=True)
    '1.8 degF'
    """
    try:
        number, unit = split(text)
    except UnitsError:
        return text
    kind = _kind_of(unit, difference)
    if kind in (None, "time") or unit == dimensions()[kind].faces[units][0]:
        return text
    wanted = dimensions()[kind].faces[units][0]
    given, shown_in = scale(unit, kind), scale(wanted, kind)
    value = (number * given.factor + given.offset - shown_in.offset) / shown_in.factor
    return f"{value:.4g} {wanted}"


def _kind_of(unit: str, difference: bool) -> str | None:
    """The kind of quantity that a unit stands for, None for no unit or an unknown one."""
    kinds = [kind for kind, entry in dimensions().items() if unit in entry.spellings]
    if difference and "temperature_difference" in kinds:
        return "temperature_difference"
    return kinds[0] if kinds else None
