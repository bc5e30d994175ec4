"""A vented furnace beside an unvented heater on the same trip."""

from collections.abc import Iterator
from dataclasses import replace

from coldsoak.choose.air_answer import Heating
from coldsoak.choose.air_run import AirRun, air_run, litres, nights
from coldsoak.rig.catalogue import catalogue
from coldsoak.rig.trip import Appliance, Trip
from coldsoak.rig.units import parse
from coldsoak.weather.table import WeatherTable

HEATERS = ("furnace", "room heater")
"""Kinds that heat the room, whatever runs them."""


def heats(appliance: Appliance) -> bool:
    """Whether it is there to heat the room."""
    return appliance.use == "thermostat" or appliance.kind in HEATERS


def as_heater(appliance: Appliance, vented: bool) -> Appliance:
    """The same burner with or without a flue; its own share of heat where that is as it is.

    Where it is not, the share is that of the catalogue's furnace, or of its room heater.
    """
    if appliance.vented == vented:
        return appliance
    entry = catalogue("burners")["furnace" if vented else "room heater"]
    share = parse(entry.values["room_share"].value, "share")
    return replace(appliance, vented=vented, room_share=share)


def heated(trip: Trip, vented: bool) -> Trip:
    """The trip with all its heaters of one sort."""
    return replace(
        trip,
        appliances=tuple(as_heater(a, vented) if heats(a) else a for a in trip.appliances),
    )


def summary(trip: Trip, ran: AirRun, vented: bool) -> Heating:
    """What one way of heating came to."""
    seconds, made = ran.night.line.seconds, ran.night.sources
    flames = litres(made.flames, seconds) / nights(trip)
    others = (litres(made.people, seconds) + litres(made.cooking, seconds)) / nights(trip)
    heaters = [b for b, appliance in enumerate(trip.appliances) if heats(appliance)]
    panes = trip.shelter is not None and trip.shelter.window is not None
    return Heating(
        by="vented furnace" if vented else "unvented heater",
        burned_kg=float(ran.done.outcome.burned[heaters].sum()),
        water_L=others + flames,
        flame_water_L=flames,
        highest_co2_ppm=1e6 * ran.book.highest_co2,
        lowest_o2_pct=100.0 * ran.book.lowest_oxygen,
        window_wet_hours=ran.book.window_wet / 3600.0 if panes else None,
        window_frozen_hours=ran.book.window_frozen / 3600.0 if panes else None,
        wall_wet_hours=ran.book.wall_wet / 3600.0,
    )


def side_by_side(trip: Trip, weather: WeatherTable) -> Iterator[Heating]:
    """The trip with a vented furnace, then with an unvented heater; nothing without a heater."""
    if not any(heats(appliance) for appliance in trip.appliances):
        return
    for vented in (True, False):
        other = heated(trip, vented)
        yield summary(other, air_run(other, weather, weather), vented)
