"""From what a source gave to the full weather table, with every assumption written down."""

import numpy as np
from numpy.typing import NDArray

from coldsoak.physics.sky import sky_temperature, sky_temperature_of_infrared, station_pressure
from coldsoak.physics.sun import sun_position
from coldsoak.weather.gaps import Span, bridged, gap_note, require_cover
from coldsoak.weather.humidity import held_by_air, vapor_at_dew_point
from coldsoak.weather.irradiance import sunlight
from coldsoak.weather.observed import Observed
from coldsoak.weather.place import Place, sky_over
from coldsoak.weather.table import WeatherTable

Array = NDArray[np.float64]

ASSUMED_HUMIDITY = 0.70
"""Relative humidity where a source has none: usual in winter nights, no source."""

OTHER_PLACE = 150.0
"""Difference of elevation [m] from which on a note warns that the air may be 1 K off
(6.5 K/km of the standard atmosphere)."""


def complete(observed: Observed, span: Span, place: Place) -> WeatherTable:
    """The weather table of a trip.

    Parameters
    ----------
    observed : what the source gave
    span : start and length of the trip, in the clock of `observed.seconds`
    place : of the trip

    Raises WeatherError if the air temperature does not cover the trip, or if a quantity that
    the source has is missing for more than 3 h.
    """
    require_cover(observed, span)
    at = _times(observed, span)
    air = bridged(observed, observed.air, at, "air", span)
    given = _given(observed, at, span)
    over = sky_over(span.start, observed.offset, place)
    days = over.days + at / 86400.0
    elevation, azimuth = sun_position(days, over.latitude, over.longitude)
    sun = sunlight(given.get("beam"), given.get("diffuse"), given.get("global"), elevation, days)
    vapor = _vapor_pressure(air, given)
    notes = (
        *observed.notes,
        *_gap_notes(observed, span),
        *_assumptions(air, vapor, given),
        *sun.notes,
        *_elevation_notes(given, observed, place),
        *over.notes,
    )
    return WeatherTable(
        seconds=at,
        air=air,
        wind=given.get("wind", np.zeros_like(at)),
        wind_at_cylinder=observed.wind_at_cylinder,
        vapor_pressure=held_by_air(air, vapor),
        sky=_sky(air, held_by_air(air, vapor), given),
        beam=sun.beam,
        diffuse=sun.diffuse,
        global_=sun.global_,
        sun_elevation=elevation,
        sun_azimuth=azimuth,
        station_pressure=_pressure(given, observed, place, at),
        source=observed.source,
        notes=notes,
    )


def _times(observed: Observed, span: Span) -> Array:
    """The table's times: start, every observation of air inside the trip, end [s]."""
    times = observed.seconds[np.isfinite(observed.air)]
    inside = times[(times > 0.0) & (times < span.length)]
    return np.concatenate(([0.0], inside, [span.length]))


def _given(observed: Observed, at: Array, span: Span) -> dict[str, Array]:
    """Every quantity besides air of which the source knows at least one value, at `at`."""
    return {
        name: bridged(observed, values, at, name, span)
        for name, values in observed.values.items()
        if np.isfinite(values).any()
    }


def _gap_notes(observed: Observed, span: Span) -> tuple[str, ...]:
    """A note for every quantity of which gaps were bridged."""
    known = {"air": observed.air, **observed.values}
    return tuple(
        note for name, values in known.items() for note in gap_note(observed, values, name, span)
    )


def _vapor_pressure(air: Array, given: dict[str, Array]) -> Array:
    """Vapor pressure [Pa] from the dew point, or the relative humidity, or the assumed one."""
    if "dew point" in given:
        return vapor_at_dew_point(given["dew point"])
    return given.get("humidity", ASSUMED_HUMIDITY) * vapor_at_dew_point(air)


def _sky(air: Array, vapor_pressure: Array, given: dict[str, Array]) -> Array:
    """Sky temperature [K] from measured infrared, or from the clouds, or of a clear sky."""
    if "infrared" in given:
        return sky_temperature_of_infrared(given["infrared"])
    return sky_temperature(air, vapor_pressure, given.get("cloud", np.zeros_like(air)))


def _pressure(given: dict[str, Array], observed: Observed, place: Place, at: Array) -> Array:
    """Station pressure [Pa]: the source's, carried to the trip's elevation, or the standard's."""
    if "pressure" not in given:
        return np.full_like(at, station_pressure(_elevation(observed, place)))
    if place.elevation is None or observed.elevation is None:
        return given["pressure"]
    ratio = station_pressure(place.elevation) / station_pressure(observed.elevation)
    return given["pressure"] * ratio


def _elevation(observed: Observed, place: Place) -> float:
    """Elevation [m] of the trip: its own, or the weather station's, or sea level."""
    if place.elevation is not None:
        return place.elevation
    return observed.elevation if observed.elevation is not None else 0.0


def _assumptions(air: Array, vapor_pressure: Array, given: dict[str, Array]) -> tuple[str, ...]:
    """Notes on wind, humidity and sky that the source does not have."""
    notes = []
    if "wind" not in given:
        notes.append("No wind is given: calm assumed (least heat reaches a cylinder).")
    if "dew point" not in given and "humidity" not in given:
        notes.append(f"No humidity is given: {ASSUMED_HUMIDITY:.0%} assumed.")
    if (vapor_pressure > 1.005 * held_by_air(air, vapor_pressure)).any():
        notes.append("Humidity above saturation over ice is counted as saturation over ice.")
    if "infrared" not in given and "cloud" not in given:
        notes.append("No clouds are given: clear sky assumed (the coldest at night).")
    return tuple(notes)


def _elevation_notes(given: dict[str, Array], observed: Observed, place: Place) -> tuple[str, ...]:
    """Notes on elevations that are not known or do not agree."""
    if place.elevation is None and observed.elevation is None and "pressure" not in given:
        return ("The place has no elevation: sea level assumed.",)
    if place.elevation is None or observed.elevation is None:
        return ()
    if abs(place.elevation - observed.elevation) < OTHER_PLACE:
        return ()
    return (
        f"The weather is of {observed.elevation:.0f} m, the trip at {place.elevation:.0f} m: "
        "pressure is carried over, the air temperature is not.",
    )
