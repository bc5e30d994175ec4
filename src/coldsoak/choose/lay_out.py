"""From a trip and its weather to the records that the march takes."""

import math
from collections.abc import Iterable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldsoak.night import records
from coldsoak.physics import combustion, fuel, sky, vessel
from coldsoak.rig.trip import Appliance, Cylinder, People, Shelter, Supply, Trip
from coldsoak.weather.table import WeatherTable

Array = NDArray[np.float64]

DAY = 86400.0

LEAST_CONTENTS = 1e-4
"""An empty cylinder still holds this much, so that it has a pressure [kg]."""

HEATER_LIMIT = 313.15
"""A heater that is always on still ends at its own limit, 40 C; common practice, no source [K]."""

NO_CABIN = dict.fromkeys(records.CABIN.names or (), math.nan)
"""Stands where a trip has no shelter; the march does not read it."""


def lay_out(
    trip: Trip, weather: WeatherTable, swaps: Iterable[tuple[float, int, int]]
) -> records.Night:
    """Lay everything out for the march.

    Parameters
    ----------
    trip : Trip
    weather : WeatherTable
        Covers the trip from start to end.
    swaps : iterable of (seconds, taken off, put on)
        Changes of cylinders, as indices of ``trip.cylinders``.
    """
    pressure = float(weather.station_pressure.mean())
    return records.Night(
        length=trip.length,
        weather=lay_weather(weather),
        sun=np.array([sun_on(cylinder, weather) for cylinder in trip.cylinders]),
        cylinders=lay_cylinders(trip, weather),
        supply=lay_supply(trip.supply, pressure),
        burners=lay_burners(trip.appliances, pressure),
        cabin=records.table(records.CABIN, lay_cabin(trip, weather), 1),
        heated=trip.shelter is not None,
        orders=lay_orders(trip, swaps),
    )


def lay_weather(weather: WeatherTable) -> records.Table:
    """Weather at the place, with the sun on the windows."""
    columns = {
        "seconds": weather.seconds,
        "air": weather.air,
        "wind": weather.wind,
        "vapor_pressure": weather.vapor_pressure,
        "sky": weather.sky,
        "sun_window": sky.window_irradiance(
            weather.beam, weather.diffuse, weather.global_, weather.sun_elevation, sky.SNOW_ALBEDO
        ),
    }
    return records.table(records.WEATHER, columns, weather.seconds.size)


def lay_supply(supply: Supply, pressure: float) -> records.Table:
    """Gauge pressures as absolute ones, at the station's pressure [Pa]."""
    columns = {
        "minimum": pressure + supply.minimum_inlet,
        "changeover": pressure + supply.changeover_set,
        "station_pressure": pressure,
    }
    return records.table(records.SUPPLY, columns, 1)


def sun_on(cylinder: Cylinder, weather: WeatherTable) -> Array:
    """Mean irradiance over the whole surface of ``cylinder`` at its place [W/m2]."""
    body = vessel.shape(cylinder.water_capacity, cylinder.diameter)
    slenderness = vessel.outer_height(body, cylinder.thickness) / cylinder.diameter
    irradiance = (
        sky.upright_cylinder_irradiance if cylinder.upright else sky.horizontal_cylinder_irradiance
    )
    return cylinder.sun_view * irradiance(
        weather.beam,
        weather.diffuse,
        weather.global_,
        weather.sun_elevation,
        sky.SNOW_ALBEDO,
        slenderness,
    )


def sides(trip: Trip) -> list[int]:
    """Where each cylinder is connected at the start: 0 supply side, 1 reserve side, -1 not.

    One at a time: the first supply cylinder alone. Together: all supply cylinders. Automatic
    changeover: supply cylinders on one side, reserve cylinders on the other. Where none is for the
    supply, the first one is.
    """
    roles = [cylinder.role for cylinder in trip.cylinders]
    if "supply" not in roles:
        roles[0] = "supply"
    if trip.supply.arrangement == "one at a time":
        first = roles.index("supply")
        return [0 if c == first else -1 for c in range(len(roles))]
    reserve = 1 if trip.supply.arrangement == "automatic changeover" else -1
    return [{"supply": 0, "reserve": reserve}.get(role, -1) for role in roles]


def moles_in(contents: float, composition: Iterable[float]) -> Array:
    """Moles of each component in ``contents`` [kg] of a mixture of mole fractions."""
    fractions = np.array(tuple(composition))
    fractions = fractions / fractions.sum()
    return np.asarray(max(contents, LEAST_CONTENTS) * fractions / (fractions @ fuel.MOLAR_MASS))


def lay_cylinders(trip: Trip, weather: WeatherTable) -> records.Table:
    """Bodies, places and contents; the fuel is the worst that its grade allows."""
    rows = [lay_cylinder(cylinder, trip, weather) for cylinder in trip.cylinders]
    columns = {name: np.array([row[name] for row in rows]) for name in rows[0]}
    return records.table(records.CYLINDER, columns | {"side": sides(trip)}, len(rows))


def lay_cylinder(cylinder: Cylinder, trip: Trip, weather: WeatherTable) -> dict[str, Any]:
    """One cylinder, but for where it is connected."""
    body = vessel.shape(cylinder.water_capacity, cylinder.diameter)
    material = vessel.MATERIALS[cylinder.material]
    start = cylinder.start_temperature
    return {
        "moles": moles_in(cylinder.contents, trip.fuel.worst),
        "temperature": weather.air[0] if start is None else start,
        "volume": cylinder.water_capacity,
        "levels": vessel.level_table(cylinder.water_capacity, cylinder.diameter, cylinder.upright),
        "area": vessel.total_area(body),
        "wall_capacity": cylinder.thickness * material.density * material.heat_capacity,
        "upright": cylinder.upright,
        "height": vessel.outer_height(body, cylinder.thickness),
        "diameter": cylinder.diameter + 2.0 * cylinder.thickness,
        "thickness": cylinder.thickness,
        "conductivity": material.conductivity,
        "emissivity": cylinder.emissivity,
        "absorptivity": cylinder.absorptivity,
        "sky_view": cylinder.sky_view,
        "cover": cylinder.cover,
        "wind_factor": wind_factor(cylinder, weather),
        "heater": cylinder.heater,
        "heater_below": HEATER_LIMIT if cylinder.heater_on == "always" else cylinder.heater_on,
    }


def wind_factor(cylinder: Cylinder, weather: WeatherTable) -> float:
    """Wind at the wall over wind of the table; none in a locker, whatever the table's wind is."""
    if weather.wind_at_cylinder and cylinder.wind_factor > 0.0:
        return 1.0
    return cylinder.wind_factor


def lay_burners(appliances: tuple[Appliance, ...], pressure: float) -> records.Table:
    """Appliances at this station pressure [Pa]: a fixed orifice passes less in thin air."""
    given = ("room_share", "set_point", "differential", "minimum_on", "minimum_off", "purge")
    counted = ("tries", "retry_wait")
    columns = {name: [getattr(a, name) for a in appliances] for name in given + counted}
    factor = combustion.altitude_factor(pressure)
    columns["heat"] = [factor * a.input for a in appliances]
    columns["thermostat"] = [a.use == "thermostat" for a in appliances]
    return records.table(records.BURNER, columns, len(appliances))


def lay_cabin(trip: Trip, weather: WeatherTable) -> dict[str, float]:
    """The shelter with the people in it."""
    shelter = trip.shelter
    if shelter is None:
        return NO_CABIN
    ground = shelter.ground_temperature
    return {
        "light_capacity": shelter.light_capacity,
        "heavy_capacity": shelter.heavy_capacity,
        "coupling": shelter.coupling,
        "ua_air": shelter.ua_air,
        "ua_ground": shelter.ua_ground,
        "ground": math.nan if ground is None else ground,
        "leakage_area": shelter.leakage_area,
        "wind_factor": 1.0 if weather.wind_at_cylinder else shelter.wind_factor,
        "sun_aperture": shelter.sun_aperture,
        "people": warm_people(trip.people),
        "temperature": first_inside(trip, shelter, weather),
    }


def warm_people(people: People | None) -> float:
    """Sensible heat of all people [W]."""
    return 0.0 if people is None else people.count * people.heat


def first_inside(trip: Trip, shelter: Shelter, weather: WeatherTable) -> float:
    """Temperature inside at the start [K]: as given, else the highest set point, else the air's."""
    if shelter.start_temperature is not None:
        return shelter.start_temperature
    return max(
        (a.set_point for a in trip.appliances if a.use == "thermostat"),
        default=float(weather.air[0]),
    )


def daily(trip: Trip, clock: float) -> list[float]:
    """Seconds since the start at which the clock shows ``clock`` [s since midnight].

    From the day before the start to the end, so that what began before the trip is found.
    """
    start = trip.start
    of_day = start.hour * 3600.0 + start.minute * 60.0 + start.second
    days = math.ceil(trip.length / DAY) + 2
    return [clock - of_day + day * DAY for day in range(-1, days)]


def window_spans(trip: Trip, begin: float, end: float) -> list[tuple[float, float]]:
    """Spans [s since the start] of a daily window, clipped to the trip; ``end`` may be past
    midnight. A window that ends as it begins lasts all day."""
    lasting = (end - begin) % DAY or DAY
    spans = [(max(0.0, t), min(trip.length, t + lasting)) for t in daily(trip, begin)]
    return [(a, b) for a, b in spans if a < b]


Order = tuple[float, int, int, float]


def burner_orders(trip: Trip, b: int, appliance: Appliance) -> list[Order]:
    """When a burner without thermostat is lit and put out."""
    if appliance.use == "thermostat":
        return []
    if appliance.use == "always":
        return [(0.0, records.ORDER_BURNER, b, 1.0)]
    spans = sorted(span for begin, end in appliance.use for span in window_spans(trip, begin, end))
    orders: list[Order] = []
    for begin, end in spans:
        if orders and begin <= orders[-1][0]:
            orders[-1] = (max(end, orders[-1][0]), records.ORDER_BURNER, b, 0.0)
        else:
            orders.append((begin, records.ORDER_BURNER, b, 1.0))
            orders.append((end, records.ORDER_BURNER, b, 0.0))
    return orders


def set_point_orders(trip: Trip, b: int, appliance: Appliance) -> list[Order]:
    """When a thermostat is set back and set up again; of setbacks that overlap the later counts."""
    spans = [
        (*span, setback.set_point)
        for setback in appliance.setbacks
        for span in window_spans(trip, setback.start, setback.end)
    ]
    orders: list[Order] = []
    for edge in sorted({edge for begin, end, _ in spans for edge in (begin, end)}):
        now = [(begin, value) for begin, end, value in spans if begin <= edge < end]
        value = max(now, key=lambda one: one[0])[1] if now else appliance.set_point
        if value != (orders[-1][3] if orders else appliance.set_point):
            orders.append((edge, records.ORDER_SET_POINT, b, value))
    return orders


def lay_orders(trip: Trip, swaps: Iterable[tuple[float, int, int]]) -> records.Table:
    """Everything that happens at set times, in order."""
    orders: list[Order] = [
        (seconds, records.ORDER_SWAP, off, float(on)) for seconds, off, on in swaps
    ]
    for b, appliance in enumerate(trip.appliances):
        orders += burner_orders(trip, b, appliance)
        orders += set_point_orders(trip, b, appliance)
    orders.sort(key=lambda order: order[0])
    return np.array(orders, dtype=records.ORDER).view(np.recarray)
