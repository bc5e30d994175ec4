"""Gas pressure at every appliance of a trip, all burning, in the coldest hour of its weather."""

import math
from datetime import timedelta
from typing import Literal, NamedTuple

import numpy as np

from coldsoak.cautions import LEAK_SEARCH, Facts, cautions_for
from coldsoak.choose import lines_answer as answer
from coldsoak.choose.answer import Caution
from coldsoak.choose.lay_lines import GAS_TEMPERATURE
from coldsoak.choose.line_faults import faults_of, psi
from coldsoak.choose.line_mends import mends_of
from coldsoak.choose.loaded import (
    Loaded,
    fed_share,
    least_for_all,
    load,
    pipe_drops,
    start_of,
)
from coldsoak.choose.verdict import decide
from coldsoak.night.series import GRID, series_of
from coldsoak.rig.trip import Line, Trip
from coldsoak.rig.units import show
from coldsoak.weather.table import WeatherTable

HOUR = 3600.0
ZERO_CELSIUS = 273.15


class Coldest(NamedTuple):
    """The coldest hour of the planned night."""

    seconds: float
    air: float
    """[K]"""
    station: float
    """Pressure of the air [Pa]."""
    cylinder: float
    """Absolute pressure in the best open cylinder [Pa]."""


def coldest_hour(trip: Trip, weather: WeatherTable) -> Coldest:
    """March through the trip and look at its coldest moment.

    Raises
    ------
    TripError
        The trip cannot be computed.
    """
    night = decide(trip, weather, GRID).nominal
    series = series_of(night.night, night.outcome)
    row = int(np.argmin(series.air))
    station = float(night.night.supply[0].station_pressure)
    gauge = np.where(series.open_cylinder[row], series.gauge[row], -math.inf).max()
    return Coldest(
        float(series.seconds[row]), float(series.air[row]), station, station + float(gauge)
    )


def make_lines(trip: Trip, weather: WeatherTable) -> answer.Lines:
    """Light everything in the coldest hour; raises TripError where the trip cannot be computed."""
    coldest = coldest_hour(trip, weather)
    least = coldest.station + trip.supply.minimum_inlet
    loaded = load(trip, coldest.station, max(coldest.cylinder, least))
    needed = least_for_all(loaded)
    device = trip.supply.device
    names = [appliance.name for appliance in trip.appliances]
    return answer.Lines(
        trip=trip.name,
        fed=not loaded.starved,
        starved=tuple(name for i, name in enumerate(names) if loaded.starved >> i & 1),
        at=moment(trip, coldest, least),
        least_cylinder_kPa=_kilopascals(needed - coldest.station),
        lock_up_kPa=None if device is None else device.lock_up / 1000.0,
        appliances=inlets(trip, loaded),
        stretches=stretches(trip, loaded),
        faults=(*too_cold(coldest, least), *faults_of(trip, loaded)),
        mends=mends_of(trip, loaded),
        cautions=cautions_of(trip),
        notes=notes_of(trip),
    )


def _kilopascals(pascals: float) -> float | None:
    return pascals / 1000.0 if math.isfinite(pascals) else None


def moment(trip: Trip, coldest: Coldest, least: float) -> answer.Moment:
    """The hour that is looked at."""
    cold = coldest.cylinder < least
    return answer.Moment(
        hours=coldest.seconds / HOUR,
        time=(trip.start + timedelta(seconds=coldest.seconds)).isoformat(timespec="minutes"),
        air_C=coldest.air - ZERO_CELSIUS,
        station_kPa=coldest.station / 1000.0,
        cylinder_kPa=(max(coldest.cylinder, least) - coldest.station) / 1000.0,
        cylinder_from="least inlet pressure" if cold else "march",
    )


def too_cold(coldest: Coldest, least: float) -> tuple[answer.Fault, ...]:
    """A cylinder that does not feed its regulator in the coldest hour of the planned night."""
    if coldest.cylinder >= least:
        return ()
    now, needed = (psi(p - coldest.station) for p in (coldest.cylinder, least))
    return (
        answer.Fault(
            code="cylinder-too-cold",
            where="cylinder",
            why=f"the planned night leaves {now} in it, and the regulator needs {needed}; the "
            "lines are shown with that",
            instead="See `coldsoak plan`: more surface, more contents, or less burning at once.",
        ),
    )


def inlets(trip: Trip, loaded: Loaded) -> tuple[answer.ApplianceInlet, ...]:
    """Every appliance with its inlet pressure."""
    tree = loaded.tree
    return tuple(
        answer.ApplianceInlet(
            appliance=appliance.name,
            input_W=float(end.flow) * tree.gas.heat,
            inlet_kPa=gauge(float(loaded.left[end.section]), tree.station),
            needed_kPa=appliance.needs / 1000.0,
            enough=not loaded.starved >> index & 1,
            fed_share=fed_share(loaded, index),
        )
        for index, (appliance, end) in enumerate(zip(trip.appliances, tree.ends, strict=True))
    )


def gauge(absolute: float, station: float) -> float | None:
    """Gauge pressure [kPa]; None where the gas cannot get: no more than the air outside."""
    return (absolute - station) / 1000.0 if absolute > station else None


def stretches(trip: Trip, loaded: Loaded) -> tuple[answer.Stretch, ...]:
    """What the gas goes through, in its order."""
    lines = {line.name: line for line in trip.lines}
    return tuple(
        stretch(loaded, section, lines.get(owner), owner)
        for section, owner in enumerate(loaded.tree.owner)
    )


def stretch(loaded: Loaded, section: int, line: Line | None, owner: str) -> answer.Stretch:
    """One section: its pressures, and its drop by both equations."""
    tree = loaded.tree
    drops = pipe_drops(loaded, section) if tree.sections[section].length > 0.0 else None
    decides: Literal["Darcy", "code"] | None = None
    if drops is not None:
        decides = "Darcy" if drops[0] >= drops[1] else "code"
    return answer.Stretch(
        name=owner,
        what=words_of(loaded, section, line),
        gas_W=float(loaded.flow[section]) * tree.gas.heat,
        start_kPa=gauge(start_of(loaded, section), tree.station),
        end_kPa=gauge(float(loaded.left[section]), tree.station),
        darcy_kPa=None if drops is None else drops[0] / 1000.0,
        code_kPa=None if drops is None else drops[1] / 1000.0,
        decides=decides,
    )


def words_of(loaded: Loaded, section: int, line: Line | None) -> str:
    """What a section is, in words."""
    row = loaded.tree.sections[section]
    parts = []
    if row.trip < math.inf:
        parts.append("excess-flow connector")
    if row.regulated:
        parts.append("regulator stage")
    if line is not None and row.resistance > 0.0 and line.quick_connect is not None:
        parts.append(f"quick-connect {line.quick_connect.name}")
    if line is not None and row.length > 0.0:
        size = line.size or f"{line.kind} of {line.diameter * 1000.0:.1f} mm"
        parts.append(f"{size}, {line.length:.2f} m")
        if line.fittings_length > 0.0:
            parts.append(f"fittings worth {line.fittings_length:.2f} m")
    return ", ".join(parts)


def cautions_of(trip: Trip) -> tuple[Caution, ...]:
    """What must be said with pressures in lines."""
    facts = Facts(cylinders=True, burning=bool(trip.appliances))
    said = [pair for pair in cautions_for(facts) if pair[0] in ("gas-smell", "licensed-work")]
    return tuple(Caution(code=code, text=text) for code, text in (*said, LEAK_SEARCH))


def notes_of(trip: Trip) -> tuple[str, ...]:
    """What the answer takes for granted."""
    notes = [
        f"Gas in the lines is taken at {show(GAS_TEMPERATURE, 'temperature')}; in colder lines it "
        "is denser and loses less.",
        "Of Darcy's law and the fuel-gas code's equation the stricter counts.",
        "Every appliance is taken at its full input, also where its pressure is too low for it.",
    ]
    if not trip.lines:
        notes.insert(0, "No [[line]] is given: lines and regulator are taken as losing nothing.")
    return (*notes, *trip.notes)
