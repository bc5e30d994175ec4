"""The battery of the trip file resolved: its kind, its charge, its loads, and what charges it."""

from math import inf
from typing import Any

import numpy as np

from coldsoak.rig.catalogue import Entry, catalogue, default
from coldsoak.rig.document import ChargerTable, LoadTable, RestVoltage, SolarTable
from coldsoak.rig.electric import Battery, Charger, Curve, Kind, Load, Solar
from coldsoak.rig.quantity import Measured
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import Place
from coldsoak.rig.units import parse, show

HOUR = 3600.0
FREEZING = 273.15
LEAST_STEP = 0.01
VOLTAGE = Measured("voltage", "1 V", "100 V")
SHOWN = {
    "exponent": "rate exponent",
    "capacity": "capacity in the cold",
    "acceptance": "charge acceptance",
    "charge": "charging efficiency",
}
"""What is taken for granted of a kind, and how `explain` calls it."""


def resolve_battery(section: Section, place: Place, sheltered: bool) -> Battery:
    """The battery in SI; raises TripError."""
    entry = catalogue("batteries")[section.given("kind")]
    voltage = section.number("voltage", entry.values["voltage"])
    cut_out = _state(section, "cut_out", entry, voltage)
    _tell_kind(section, entry)
    return Battery(
        kind=kind_of_battery(entry.name),
        energy=_energy(section, voltage),
        state=_state(section, "state", entry, voltage),
        inside=_inside(section, sheltered),
        cut_out=cut_out,
        reconnect=_reconnect(section, entry, voltage, cut_out),
        loads=_loads(section, voltage),
        solar=_solar(section, place),
        alternator=_chargers(section, "alternator", voltage),
        shore=_chargers(section, "shore", voltage),
    )


def kind_of_battery(name: str) -> Kind:
    """What the catalogue says of a kind of battery, such as "AGM"."""
    values = catalogue("batteries")[name].values
    ratio = parse(values["voltage"].value, "voltage") / parse(
        values["charging_voltage"].value, "voltage"
    )
    floor = values.get("charge_floor")
    freezes = values.get("freezes")
    return Kind(
        name=name,
        exponent=values["exponent"].value,
        capacity=_curve(values["capacity"].value, first=FREEZING),
        acceptance=_curve(values["acceptance"].value, first=FREEZING, scale=1.0 / HOUR),
        tapers=values["tapers"].value,
        efficiency=tuple((state / 100.0, ratio * part) for state, part in values["charge"].value),
        charge_floor=parse(floor.value, "temperature") if floor else 0.0,
        freezes=tuple((s / 100.0, t + FREEZING) for s, t in freezes.value) if freezes else (),
        weak_below=parse(values["weak_below"].value, "temperature"),
    )


def _curve(points: list[list[float]], first: float, scale: float = 1.0) -> Curve:
    """A curve with its temperatures in K and its values scaled."""
    return tuple((at + first, scale * value) for at, value in points)


def _tell_kind(section: Section, entry: Entry) -> None:
    """Record what is taken for granted of a kind."""
    for key, words in SHOWN.items():
        value = entry.values[key]
        text = str(value.value) if key == "exponent" else f"a curve for {entry.name}"
        section.record.assume((*section.key, words), text, value.source)


def _energy(section: Section, voltage: float) -> float:
    """Rated energy [J], given as charge or as energy."""
    given = [name for name in ("capacity", "energy") if section.given(name) is not None]
    if len(given) == 2:
        raise section.error("energy", "found capacity and energy", "give one of them")
    if not given:
        raise section.record.source.error(
            section.key,
            "neither capacity nor energy is given",
            'give capacity ("100 Ah") or energy ("1280 Wh")',
        )
    return section.number(given[0]) * (voltage if given == ["capacity"] else 1.0)


def _state(section: Section, name: str, entry: Entry, voltage: float) -> float:
    """A state of charge, given as a share or as the voltage at rest."""
    given = section.given(name)
    if not isinstance(given, RestVoltage):
        return section.by_default(name)
    volts = section.settled(section.at(name), VOLTAGE, given)
    rest = entry.values["rest"]
    section.record.assume((*section.at(name), "state at this voltage"), "by a table", rest.source)
    cells = volts * parse(entry.values["voltage"].value, "voltage") / voltage
    _within_rest(section, name, cells, rest.value)
    return state_at_rest(cells, rest.value)


def state_at_rest(volts: float, rest: list[list[float]]) -> float:
    """State of charge, 0 to 1, at a voltage at rest; empty below the table, full above it.

    `rest` is a table of the catalogue: state [%] and voltage of the battery [V].

    >>> state_at_rest(12.0, [[0, 11.8], [100, 12.8]])
    0.2
    """
    states, voltages = zip(*rest, strict=True)
    top = 100.0 if volts >= voltages[-1] else np.interp(volts, voltages, states)
    return round(float(top) / 100.0, 6)


def _within_rest(section: Section, name: str, volts: float, rest: list[list[float]]) -> None:
    """Note a voltage at which a resting battery is empty: it is one under load."""
    low = rest[0][1]
    if volts < low and name != "state":
        section.record.note(
            f"battery.{name} is below the {low:g} V of an empty battery at rest: taken as the end "
            "of what it can give under its load."
        )


def _reconnect(section: Section, entry: Entry, voltage: float, cut_out: float) -> float:
    """The share at which loads come back: well above the one at which they are cut off."""
    if section.given("reconnect") is None:
        usual = default("battery.reconnect")
        share = min(1.0, cut_out + parse(usual.value, "share"))
        value = section.assumed("reconnect", usual._replace(value=show(share, "share")))
    else:
        value = _state(section, "reconnect", entry, voltage)
    if value < cut_out + LEAST_STEP:
        raise section.error(
            "reconnect" if section.given("reconnect") is not None else "cut_out",
            f"loads would be cut off at {cut_out:.0%} and come back at {value:.0%}",
            "they must come back at least 1 % above where they are cut off",
        )
    return value


def _inside(section: Section, sheltered: bool) -> bool:
    """Whether it stands in the shelter."""
    given = section.given("place")
    if given == "inside" and not sheltered:
        raise section.error("place", 'found "inside"', "there is no [shelter] to stand in")
    if given is None:
        given = "inside" if sheltered else "outside"
        why = "as most are" if sheltered else "there is no shelter"
        section.record.assume(section.at("place"), given, f"not given: {why}")
    return bool(given == "inside")


def _each(section: Section, name: str, kind: type[Any]) -> list[Section]:
    """One section for each entry of a list."""
    return [
        Section(section.record, kind, entry, (*section.at(name), index))
        for index, entry in enumerate(section.given(name) or ())
    ]


def _loads(section: Section, voltage: float) -> tuple[Load, ...]:
    """Everything it feeds besides appliances and cylinder heaters."""
    return tuple(
        Load(
            name=load.given("name") or f"load {index + 1}",
            power=_power(load, voltage),
            use=_use(load),
        )
        for index, load in enumerate(_each(section, "loads", LoadTable))
    )


def _use(load: Section) -> Any:
    """When a load is on."""
    given = load.given("use")
    if isinstance(given, list):
        return tuple((window.start, window.end) for window in given)
    if given is None:
        load.record.assume(load.at("use"), "always", "not given: on all the time, the worst")
    return "always"


def _power(part: Section, voltage: float) -> float:
    """Power [W], given as power or as a current at the rated voltage."""
    given = [name for name in ("power", "current") if part.given(name) is not None]
    if len(given) == 2:
        raise part.error("current", "found power and current", "give one of them")
    if not given:
        raise part.record.source.error(
            part.key, "neither power nor current is given", 'give power ("40 W") or current ("3 A")'
        )
    return part.number(given[0]) * (voltage if given == ["current"] else 1.0)


def _chargers(section: Section, name: str, voltage: float) -> tuple[Charger, ...]:
    """The windows in which an engine or a charger charges it."""
    return tuple(
        Charger((charger.given("start"), charger.given("end")), _power(charger, voltage))
        for charger in _each(section, name, ChargerTable)
    )


def _solar(section: Section, place: Place) -> Solar | None:
    """Its panels; tilted ones face the equator unless the file says otherwise."""
    if section.given("solar") is None:
        return None
    panels = Section(section.record, SolarTable, section.given("solar"), section.at("solar"))
    coefficient = default("solar.coefficient")
    panels.record.assume(
        (*panels.key, "temperature coefficient"),
        f"{coefficient.value:.2%} per K",
        coefficient.source,
    )
    return Solar(
        power=panels.number("power"),
        tilt=panels.by_default("tilt"),
        azimuth=_azimuth(panels, place),
        snow=panels.by_default("snow"),
        efficiency=panels.by_default("efficiency"),
        coefficient=coefficient.value,
    )


def _azimuth(panels: Section, place: Place) -> float:
    """Where the panels face [rad]."""
    south = (place.latitude if place.latitude is not None else inf) >= 0.0
    fallback = default("solar.azimuth")
    return panels.number("azimuth", fallback._replace(value="180 deg" if south else "0 deg"))
