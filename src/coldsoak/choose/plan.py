"""Will it hold: the plan of a trip, from its runs through the march."""

from datetime import timedelta
from typing import NamedTuple

import numpy as np

from coldsoak.cautions import Facts, cautions_for
from coldsoak.choose import answer
from coldsoak.choose.run import (
    Run,
    Swaps,
    energy_error,
    first_failure,
    left,
    mass_error,
    moles_left,
    run,
)
from coldsoak.choose.spread import spread_of
from coldsoak.choose.swaps import NIGHT, supply_failure, why
from coldsoak.choose.verdict import decide
from coldsoak.night.burner import LOCKED
from coldsoak.night.feed import FROST_STORE, HEATER, SENSIBLE, VAPOR, WALL
from coldsoak.night.march import (
    CAUSES,
    FREEZING,
    RESIDUE,
    VAPOR_LIMITED,
)
from coldsoak.night.residue import residue
from coldsoak.night.series import GRID, Series, series_of
from coldsoak.physics.fuel import MOLAR_MASS
from coldsoak.rig.trip import Trip
from coldsoak.weather.table import WeatherTable

HOUR = 3600.0
ZERO_CELSIUS = 273.15


class Planned(NamedTuple):
    """The plan and the night as a series."""

    plan: answer.Plan
    series: Series


def make_plan(trip: Trip, weather: WeatherTable) -> Planned:
    """Plan a trip: with changes of cylinders, with nobody touching anything, and as a range.

    Raises
    ------
    TripError
        The trip cannot be computed (:func:`coldsoak.choose.verdict.decide`).
    """
    swaps, nominal, verdict = decide(trip, weather, GRID)
    as_packed = run(trip, weather) if swaps else nominal
    plan = answer.Plan(
        trip=trip.name,
        verdict=verdict,
        first_failure=failure_of(trip, nominal),
        as_packed_failure=failure_of(trip, as_packed),
        chance=None,
        fuel=fuel_of(trip, nominal),
        cylinders=cylinders_of(trip, nominal),
        stores=stores_of(nominal),
        swaps=swaps_of(trip, weather, swaps),
        shelter=shelter_of(nominal),
        battery=None,
        air=None,
        lines=(),
        balance=answer.Balance(mass_rel=mass_error(nominal), energy_rel=energy_error(nominal)),
        cautions=cautions_of(trip, nominal, swaps),
        notes=notes_of(trip, weather),
        range=spread_of(trip),
    )
    return Planned(plan, series_of(nominal.night, nominal.outcome))


def moment(trip: Trip, seconds: float) -> str:
    """Time by the trip's clock, ISO 8601 to the minute."""
    return (trip.start + timedelta(seconds=seconds)).isoformat(timespec="minutes")


def failure_of(trip: Trip, done: Run) -> answer.Failure | None:
    """First failure of a run in words."""
    first = first_failure(done.outcome)
    if first is None:
        return None
    seconds, number = first
    cause: answer.Cause = CAUSES[number]
    return answer.Failure(
        hours=seconds / HOUR,
        time=moment(trip, seconds),
        cause=cause,
        what=what_happens(trip, cause, int(done.outcome.failures.about[number])),
    )


def what_happens(trip: Trip, cause: answer.Cause, cylinder: int) -> str:
    """A failure as a sentence; ``cylinder`` is negative where the cause is about none."""
    words = answer.CAUSES[cause]
    if cylinder < 0:
        return f"{words[0].upper()}{words[1:]}."
    return f"Cylinder {trip.cylinders[cylinder].name}: {words}."


def air_at(done: Run, seconds: float) -> float:
    """Temperature of the outside air [K]."""
    weather = done.night.weather
    return float(np.interp(seconds, weather.seconds, weather.air))


def fuel_of(trip: Trip, done: Run) -> answer.Fuel:
    """Fuel at the start and the end; the residue is taken at the air of the failure or the end."""
    first = first_failure(done.outcome)
    air = air_at(done, trip.length if first is None else first[0])
    least = done.night.supply[0].minimum
    stays = [residue(air, least, moles) for moles in moles_left(done.outcome)]
    names = [appliance.name for appliance in trip.appliances]
    used = done.outcome.burned
    return answer.Fuel(
        start_kg=float((done.night.cylinders.moles @ MOLAR_MASS).sum()),
        burned_kg=float(used.sum()),
        left_kg=float(left(done.outcome).sum()),
        residue_kg=float(sum(stays)),
        by_appliance_kg={name: float(kg) for name, kg in zip(names, used, strict=True)},
    )


def cylinders_of(trip: Trip, done: Run) -> tuple[answer.CylinderEnd, ...]:
    """Every cylinder over the trip."""
    outcome = done.outcome
    books = outcome.books
    kilograms = left(outcome)
    station = done.night.supply[0].station_pressure
    least = done.night.supply[0].minimum
    margins = np.where(
        np.isnan(books.lowest_margin), books.lowest_pressure - least, books.lowest_margin
    )
    return tuple(
        answer.CylinderEnd(
            name=cylinder.name,
            left_kg=float(kilograms[c]),
            lowest_liquid_C=float(books.lowest_temperature[c]) - ZERO_CELSIUS,
            lowest_gauge_kPa=float(books.lowest_pressure[c] - station) / 1000.0,
            lowest_margin_kPa=float(margins[c]) / 1000.0,
            failed_at_hours=hours_or_none(float(outcome.failures.cylinder[c])),
        )
        for c, cylinder in enumerate(trip.cylinders)
    )


def hours_or_none(seconds: float) -> float | None:
    """Hours of a time that may be infinite."""
    return seconds / HOUR if np.isfinite(seconds) else None


def stores_of(done: Run) -> answer.Stores:
    """Where the heat that boiled the fuel came from."""
    kilojoules = done.outcome.stores / 1000.0
    return answer.Stores(
        vapor_kJ=float(kilojoules[VAPOR]),
        sensible_kJ=float(kilojoules[SENSIBLE]),
        wall_kJ=float(kilojoules[WALL]),
        frost_kJ=float(kilojoules[FROST_STORE]),
        heater_kJ=float(kilojoules[HEATER]),
    )


def swaps_of(trip: Trip, weather: WeatherTable, swaps: Swaps) -> tuple[answer.Swap, ...]:
    """Changes of cylinders in words, each with what would happen without it."""
    told = []
    for i, swap in enumerate(swaps):
        failure = supply_failure(trip, weather, swaps[:i])
        told.append(
            answer.Swap(
                hours=swap[0] / HOUR,
                time=moment(trip, swap[0]),
                from_=trip.cylinders[swap[1]].name,
                to=trip.cylinders[swap[2]].name,
                why=why(trip, swap, trip.length if failure is None else failure),
            )
        )
    return tuple(told)


def shelter_of(done: Run) -> answer.ShelterEnd | None:
    """The room over the trip."""
    if not done.night.heated:
        return None
    return answer.ShelterEnd(
        lowest_inside_C=float(done.outcome.lowest_inside) - ZERO_CELSIUS,
        freezing_at_hours=hours_or_none(float(done.outcome.failures.seconds[FREEZING])),
    )


def cautions_of(trip: Trip, done: Run, swaps: Swaps) -> tuple[answer.Caution, ...]:
    """What must be said with this plan."""
    first = first_failure(done.outcome)
    too_cold = first is not None and first[1] in (VAPOR_LIMITED, RESIDUE)
    places = {cylinder.place for cylinder in trip.cylinders}
    kinds = {appliance.kind for appliance in trip.appliances}
    outdoors = {"grill", "fire pit", "generator"}
    facts = Facts(
        cylinders=True,
        burning=bool(trip.appliances),
        occupied=trip.shelter is not None or trip.people is not None,
        sleeping=trip.people is not None and trip.people.count > 0,
        unvented_indoors=any(
            not a.vented and a.room_share > 0.0 and a.kind not in outdoors for a in trip.appliances
        ),
        outdoor_only=bool(kinds & outdoors),
        locker=bool(places & {"locker", "covered"}),
        lying=any(not c.upright and c.water_capacity < 0.12 for c in trip.cylinders),
        together=trip.supply.arrangement == "together",
        heater=any(c.heater > 0.0 for c in trip.cylinders),
        starts_warm=any(
            c.start_temperature is not None and c.start_temperature > air_at(done, 0.0) + 1.0
            for c in trip.cylinders
        ),
        too_cold=too_cold,
        changes=bool(swaps),
        locks_out=LOCKED in done.outcome.log.what[: done.outcome.log.entries[0]],
    )
    return tuple(answer.Caution(code=code, text=text) for code, text in cautions_for(facts))


def notes_of(trip: Trip, weather: WeatherTable) -> tuple[str, ...]:
    """What this plan does not know or takes for granted."""
    notes = [
        "The outside film is the largest unknown: published correlations for free convection "
        "differ by a factor of five for a small cylinder.",
        "Hoses and regulator behind the cylinders, the battery and the air inside do not enter "
        "this plan.",
    ]
    thermostats = [a.name for a in trip.appliances if a.use == "thermostat"]
    if trip.shelter is None and thermostats:
        notes.append(
            f"No [shelter] is given: {', '.join(thermostats)} is taken as burning all the time, "
            "the worst for the cylinders."
        )
    if trip.people is None and len(trip.cylinders) > 1:
        begin, end = (int(clock // HOUR) for clock in NIGHT)
        notes.append(
            "No [people] are given: changes of cylinders keep out of "
            f"{begin:02d}:00 to {end:02d}:00."
        )
    return (*notes, *trip.notes, *weather.notes)
