"""The air inside over a trip: carbon dioxide, oxygen, water, wet windows, the openings needed."""

from datetime import timedelta

from coldsoak.cautions import Facts, cautions_for
from coldsoak.choose import air_answer as answer
from coldsoak.choose.air_assumed import AIR_ASSUMED
from coldsoak.choose.air_range import spread_of
from coldsoak.choose.air_run import AirRun, air_behind, air_run, litres, nights
from coldsoak.choose.answer import AirEnd, Caution
from coldsoak.choose.carbon_monoxide import IF_IT_SOUNDS, SAYS_NOTHING, number, table
from coldsoak.choose.closed_room import closed_room
from coldsoak.choose.heating import side_by_side
from coldsoak.choose.lay_air import OUTDOOR_KINDS, burns_inside
from coldsoak.choose.openings import needed
from coldsoak.choose.run import Run
from coldsoak.errors import TripError
from coldsoak.rig.trip import Shelter, Trip
from coldsoak.weather.table import WeatherTable

HOUR = 3600.0
ZERO_CELSIUS = 273.15
PPM = 1e6


def make_air(trip: Trip, weather: WeatherTable) -> answer.AirAnswer:
    """The air inside over a trip, as if its gas lasted.

    Raises
    ------
    TripError
        There is no shelter whose air it could be.
    """
    shelter = shelter_of(trip)
    ran = air_run(trip, weather, weather)
    book = ran.book
    unfit = None if book.unfit == 0.0 else moment(trip, book.unfit_at)
    return answer.AirAnswer(
        trip=trip.name,
        limits=answer.Limits(co2_ppm=PPM * trip.air.co2, o2_pct=100.0 * trip.air.oxygen),
        highest_co2_ppm=PPM * book.highest_co2,
        highest_co2_time=moment(trip, book.highest_at),
        lowest_o2_pct=100.0 * book.lowest_oxygen,
        lowest_o2_time=moment(trip, book.lowest_at),
        unfit_hours=book.unfit / HOUR,
        unfit_from=unfit,
        windows=windows_of(shelter, ran),
        walls=walls_of(ran),
        water_per_night=water_of(trip, ran),
        exchange=exchange_of(shelter, ran),
        openings=needed(trip, shelter, weather),
        heating=tuple(side_by_side(trip, weather)),
        closed_room=closed_room(trip, shelter, ran.done.night),
        carbon_monoxide=carbon_monoxide(),
        range=spread_of(trip),
        cautions=cautions_of(trip),
        notes=notes_of(trip, weather),
        assumptions=tuple(
            answer.Assumed(key=each.key, value=each.value, source=each.source)
            for each in AIR_ASSUMED
        ),
    )


def shelter_of(trip: Trip) -> Shelter:
    """The trip's shelter; raises TripError if there is none."""
    if trip.shelter is None:
        raise TripError(
            "there is no [shelter] whose air this could be",
            'give [shelter] with floor = { area = "9 m2", U = "0.8 W/m2K" } and surfaces',
            file=None if trip.path is None else str(trip.path),
        )
    return trip.shelter


def air_end(trip: Trip, weather: WeatherTable, done: Run) -> AirEnd | None:
    """The air of a plan's own run, which recorded its track; None without a shelter.

    Flames count as that run burned them, until their gas fails.
    """
    if trip.shelter is None:
        return None
    book = air_behind(trip, trip.shelter, weather, done).book
    return AirEnd(
        highest_co2_ppm=PPM * book.highest_co2,
        lowest_o2_pct=100.0 * book.lowest_oxygen,
        window_wet_hours=book.window_wet / HOUR,
    )


def moment(trip: Trip, seconds: float) -> str:
    """Time by the trip's clock, ISO 8601 to the minute."""
    return (trip.start + timedelta(seconds=seconds)).isoformat(timespec="minutes")


def windows_of(shelter: Shelter, ran: AirRun) -> answer.Surface | None:
    """The coldest windows."""
    if shelter.window is None:
        return None
    return answer.Surface(
        wet_hours=ran.book.window_wet / HOUR,
        frozen_hours=ran.book.window_frozen / HOUR,
        coldest_C=ran.book.coldest_window - ZERO_CELSIUS,
    )


def walls_of(ran: AirRun) -> answer.Surface:
    """The coldest wall."""
    return answer.Surface(
        wet_hours=ran.book.wall_wet / HOUR,
        frozen_hours=ran.book.wall_frozen / HOUR,
        coldest_C=ran.book.coldest_wall - ZERO_CELSIUS,
    )


def water_of(trip: Trip, ran: AirRun) -> answer.Water:
    """Water given to the air in a night."""
    made, seconds, count = ran.night.sources, ran.night.line.seconds, nights(trip)
    people, cooking, flames = (litres(each, seconds) / count for each in made)
    return answer.Water(
        people_L=people, cooking_L=cooking, flames_L=flames, total_L=people + cooking + flames
    )


def exchange_of(shelter: Shelter, ran: AirRun) -> answer.Exchange:
    """Outside air that came in."""
    line = ran.night.line
    lasting = line.seconds[1:] - line.seconds[:-1]
    mean = 0.5 * float((lasting * (line.exchange[1:] + line.exchange[:-1])).sum()) / lasting.sum()
    return answer.Exchange(
        mean_L_s=1e3 * mean,
        least_L_s=1e3 * float(line.exchange.min()),
        mean_changes_per_h=HOUR * mean / shelter.volume,
    )


def carbon_monoxide() -> answer.CarbonMonoxide:
    """Alarms, limits and what is known of flames in spent air; never a number for the trip."""
    return answer.CarbonMonoxide(
        says=SAYS_NOTHING,
        if_it_sounds=IF_IT_SOUNDS,
        alarms=tuple(
            answer.Alarm(
                standard=row["standard"],
                co_ppm=float(row["co_ppm"]),
                not_before_min=number(row["not_before_min"]),
                not_after_min=number(row["not_after_min"]),
                status=row["status"],
            )
            for row in table("co_alarm_response")
        ),
        limits=tuple(
            answer.Limit.model_validate({**row, "value": float(row["value"])})
            for row in table("co_limits")
        ),
        flame=tuple(answer.Told.model_validate(row) for row in table("flame_and_air")),
    )


def cautions_of(trip: Trip) -> tuple[Caution, ...]:
    """What must be said with this answer."""
    facts = Facts(
        burning=bool(trip.appliances),
        occupied=True,
        sleeping=trip.people is not None and trip.people.count > 0,
        unvented_indoors=any(burns_inside(appliance) for appliance in trip.appliances),
        outdoor_only=any(appliance.kind in OUTDOOR_KINDS for appliance in trip.appliances),
    )
    return tuple(Caution(code=code, text=text) for code, text in cautions_for(facts))


def notes_of(trip: Trip, weather: WeatherTable) -> tuple[str, ...]:
    """What this answer takes for granted."""
    notes = [
        "The room is taken as well mixed: beside a flame and in a bunk the air is worse.",
        "Every flame is counted as if its gas lasted the whole trip, and everybody as inside all "
        "the time.",
        "Only the coldest windows and the coldest wall take up water; clothes, bedding and wood "
        "are left out.",
        "Openings are sized in still air, half of them low and half high.",
    ]
    for appliance in trip.appliances:
        if appliance.kind == "burner" and burns_inside(appliance):
            notes.append(
                f"{appliance.name} is taken as burning inside without a flue; write vented = true "
                "if it does not."
            )
    if trip.shelter is not None and not trip.shelter.openings:
        notes.append("No openings are listed in [shelter]: whether the vents suffice is not told.")
    return (*notes, *trip.notes, *weather.notes)
