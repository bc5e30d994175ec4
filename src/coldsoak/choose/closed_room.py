"""How long the air of a room would last with everything shut."""

import numpy as np

from coldsoak.choose.air_answer import Closed
from coldsoak.choose.lay_air import breath, burns_inside, by_flames
from coldsoak.night.records import Night
from coldsoak.physics.combustion import OXYGEN_IN_AIR
from coldsoak.physics.roomair import OUTSIDE_CO2, Made, dry_moles, made_by_people, time_to
from coldsoak.rig.trip import Shelter, Trip

ROOM_TEMPERATURE = 293.15
"""Of the closed room [K]."""

SENSOR = 0.18
"""Oxygen at which a sensor shuts off a heater: CPSC 1980 rule on unvented heaters."""


def made_altogether(trip: Trip, heat: float) -> Made:
    """All flames without a flue, and everybody awake [mol/s]."""
    flames = by_flames(trip, np.array([heat]))[0]
    people = trip.people
    if people is None:
        return Made(*flames)
    breathed = made_by_people(people.count * breath(people.co2_awake), 0.0)
    return Made(flames[0] + breathed.co2, flames[1] + breathed.oxygen, flames[2])


def closed_room(trip: Trip, shelter: Shelter, night: Night) -> Closed:
    """Hours to each limit with no air coming in; None where nothing spends the air."""
    heat = sum(
        float(night.burners.heat[b])
        for b, appliance in enumerate(trip.appliances)
        if burns_inside(appliance)
    )
    made = made_altogether(trip, heat)
    pressure = float(night.supply.station_pressure[0])
    moles = dry_moles(shelter.volume, ROOM_TEMPERATURE, 0.0, pressure)
    dry = made.co2 + made.oxygen

    def hours(limit: float, first: float, source: float) -> float | None:
        return None if source == 0.0 else time_to(limit, first, source, dry, moles) / 3600.0

    return Closed(
        flames_W=heat,
        people=0 if trip.people is None else trip.people.count,
        co2_limit_hours=hours(trip.air.co2, OUTSIDE_CO2, made.co2),
        o2_limit_hours=hours(trip.air.oxygen, OXYGEN_IN_AIR, made.oxygen),
        o2_18_hours=hours(SENSOR, OXYGEN_IN_AIR, made.oxygen),
    )
