"""Invented nights for the tests of the march, built from a few numbers in one place.

Every function gives plain columns; :func:`night` puts them together. The cylinder of all tests is
a 20-lb size unless a test says otherwise: 21.6 L, 300 mm wide, 2.5 mm steel.
"""

import math
from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from coldsoak.night import records
from coldsoak.night.march import Outcome, march
from coldsoak.physics import fuel, vessel
from coldsoak.physics.moistair import saturation

HOUR = 3600.0
ICE = 273.15
SEA_LEVEL = 101325.0

PROPANE = (0.0, 1.0, 0.0, 0.0, 0.0)
BUTANE = (0.0, 0.0, 0.0, 0.0, 1.0)
LEAN = (0.0, 0.9782, 0.0, 0.0, 0.0218)
HALF = (0.0, 0.5, 0.0, 0.0, 0.5)
WITH_ETHANE = (0.05, 0.80, 0.05, 0.05, 0.05)

TOLERANCE = 2e-4
"""Error of a step, the one that plans use [K]."""


def celsius(degrees: float) -> float:
    """Kelvins."""
    return degrees + ICE


def moles(kilograms: float, blend: Sequence[float]) -> records.Floats:
    """Moles of each component in a mass of a blend of mole fractions."""
    fractions = np.array(blend) / np.sum(blend)
    return kilograms * fractions / (fractions @ fuel.MOLAR_MASS)


def weather(
    air: float | Sequence[float] = -20.0,
    *,
    hours: float = 24.0,
    wind: float | Sequence[float] = 1.0,
    humidity: float = 0.75,
    sky_drop: float | None = None,
    sun_window: float | Sequence[float] = 0.0,
) -> records.Table:
    """Weather of ``hours`` in equal rows; ``air`` in degC, the sky colder than it by ``sky_drop``.

    Without ``sky_drop`` the sky is as warm as the air, as under a low overcast.
    """
    count = max(2, *(np.size(values) for values in (air, wind, sun_window)))
    kelvins = np.broadcast_to(np.asarray(air, float) + ICE, count)
    columns = {
        "seconds": np.linspace(0.0, hours * HOUR, count),
        "air": kelvins,
        "wind": np.broadcast_to(wind, count),
        "vapor_pressure": humidity * np.array([saturation(t)[0] for t in kelvins]),
        "sky": kelvins - (sky_drop or 0.0),
        "sun_window": np.broadcast_to(sun_window, count),
    }
    return records.table(records.WEATHER, columns, count)


def cylinder(
    kilograms: float = 8.4,
    blend: Sequence[float] = LEAN,
    *,
    temperature: float = -20.0,
    side: int = 0,
    liters: float = 21.6,
    diameter: float = 0.300,
    thickness: float = 0.0025,
    material: str = "steel",
    upright: bool = True,
    sky_view: float = 0.5,
    **changes: float,
) -> dict[str, Any]:
    """One row of the cylinder table; ``temperature`` in degC, other fields by their own names."""
    volume = liters / 1000.0
    body = vessel.shape(volume, diameter)
    wall = vessel.MATERIALS[material]
    return {
        "moles": moles(kilograms, blend),
        "temperature": celsius(temperature),
        "volume": volume,
        "levels": vessel.level_table(volume, diameter, upright),
        "area": vessel.total_area(body),
        "wall_capacity": thickness * wall.density * wall.heat_capacity,
        "upright": upright,
        "height": vessel.outer_height(body, thickness),
        "diameter": diameter + 2.0 * thickness,
        "thickness": thickness,
        "conductivity": wall.conductivity,
        "emissivity": 0.9,
        "absorptivity": 0.5,
        "sky_view": sky_view,
        "cover": 0.0,
        "wind_factor": 1.0,
        "heater": 0.0,
        "heater_below": math.inf,
        "side": side,
        **changes,
    }


def burner(heat: float = 2000.0, **changes: Any) -> dict[str, Any]:
    """One row of the burner table: a stove that its orders light; ``heat`` gross [W]."""
    return {
        "heat": heat,
        "room_share": 0.0,
        "thermostat": False,
        "set_point": celsius(18.0),
        "differential": 1.0,
        "minimum_on": 180.0,
        "minimum_off": 120.0,
        "purge": 20.0,
        "tries": 3,
        "retry_wait": 60.0,
        **changes,
    }


def furnace(heat: float = 4700.0, **changes: Any) -> dict[str, Any]:
    """A burner on a thermostat at 18 degC."""
    return burner(heat, **{"room_share": 0.75, "thermostat": True} | changes)


CABIN = {
    "light_capacity": 95e3,
    "heavy_capacity": 475e3,
    "coupling": 150.0,
    "ua_air": 41.0,
    "ua_ground": 0.0,
    "ground": math.nan,
    "leakage_area": 45e-4,
    "wind_factor": 0.7,
    "sun_aperture": 1.3,
    "people": 144.0,
    "temperature": celsius(18.0),
}
"""An invented camper for two people."""


def cabin(**changes: float) -> dict[str, float]:
    """The invented camper, changed."""
    return CABIN | changes


def lit(*burners: int) -> list[tuple[float, int, int, float]]:
    """Orders that light burners at the start, for good."""
    return [(0.0, records.ORDER_BURNER, b, 1.0) for b in burners or (0,)]


def rows(kind: Any, entries: Sequence[dict[str, Any]]) -> records.Table:
    """Table from a list of rows."""
    names = kind.names
    columns = {
        name: np.array([entry[name] for entry in entries]) if entries else [] for name in names
    }
    return records.table(kind, columns, len(entries))


def night(
    hours: float,
    *,
    cylinders: Sequence[dict[str, Any]] = (),
    burners: Sequence[dict[str, Any]] = (),
    orders: Iterable[tuple[float, int, int, float]] = (),
    weather: records.Table,
    shelter: dict[str, float] | None = None,
    sun: float | records.Floats = 0.0,
    minimum: float = 34.5e3,
    changeover: float = 69e3,
    station: float = SEA_LEVEL,
) -> records.Night:
    """Night of ``hours``; ``minimum`` and ``changeover`` are gauge pressures."""
    entries = list(cylinders) or [cylinder()]
    supply = {
        "minimum": station + minimum,
        "changeover": station + changeover,
        "station_pressure": station,
    }
    return records.Night(
        length=hours * HOUR,
        weather=weather,
        sun=np.ascontiguousarray(np.broadcast_to(sun, (len(entries), len(weather))), float),
        cylinders=rows(records.CYLINDER, entries),
        supply=records.table(records.SUPPLY, supply, 1),
        burners=rows(records.BURNER, burners),
        cabin=records.table(records.CABIN, shelter or dict.fromkeys(CABIN, math.nan), 1),
        heated=shelter is not None,
        orders=np.array(sorted(orders, key=lambda o: o[0]), records.ORDER).view(np.recarray),
    )


def marched(night: records.Night, tolerance: float = TOLERANCE, grid: float = 0.0) -> Outcome:
    """March through a night as a plan does."""
    return march(night, tolerance, grid)


def cylinder_states(outcome: Outcome) -> records.Floats:
    """States of the cylinders at the end, float64[c, WIDTH]."""
    return outcome.state[:-1].reshape(len(outcome.books), -1)


def kilograms_left(outcome: Outcome) -> records.Floats:
    """Fuel in every cylinder at the end [kg]."""
    return cylinder_states(outcome)[:, 2 : 2 + fuel.N_COMPONENTS] @ fuel.MOLAR_MASS


def events(outcome: Outcome) -> list[tuple[float, int, int]]:
    """What happened: (seconds, what, which) as the log has it."""
    log = outcome.log
    kept = min(int(log.entries[0]), log.seconds.size)
    return [(float(log.seconds[i]), int(log.what[i]), int(log.which[i])) for i in range(kept)]
