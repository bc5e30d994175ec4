"""What openings a trip needs: the standards' rules first, then what the physics adds."""

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from coldsoak.choose.air_answer import Openings, Rule
from coldsoak.choose.air_run import AirRun, air_run, with_openings
from coldsoak.choose.lay_air import burns_inside, calm
from coldsoak.night.air import AirBook, air_of
from coldsoak.night.march import HEAT_SHORT
from coldsoak.rig.catalogue import catalogue, vents
from coldsoak.rig.trip import Shelter, Trip
from coldsoak.rig.units import parse
from coldsoak.weather.table import WeatherTable

CM2 = 1e-4

SIZES = tuple(
    CM2 * size
    for size in (0, 10, 20, 30, 40, 60, 80, 100, 130, 160, 200, 250, 320, 400, 500, 640, 800)
)
"""Openings that are tried [m2]: each about a quarter more than the one before; the last is a roof
hatch of 28 cm square."""

DRY = 0.1
"""Part of the trip for which windows may be wet and still count as dry: they are wiped morning and
evening; common practice, no source."""

REASON = 1.25
"""Fuel that dry windows may cost, over that without openings; beyond it the answer is a drier
source of heat or a better pane; common practice, no source."""


def unvented_input(trip: Trip) -> float:
    """Rated input of all flames without a flue [W]."""
    return sum(each.input for each in trip.appliances if burns_inside(each))


def fixed_vents(floor_area: float) -> float:
    """Fixed vents that EN 721 asks for a floor area [m2].

    >>> round(fixed_vents(9.5) / 1e-4)
    115
    """
    rows = vents()
    row = next((r for r in rows if floor_area <= parse(r["floor_up_to"], "area")), rows[-1])
    return parse(row["opening"], "opening")


def least_volume(heat_input: float) -> float:
    """Room that the fuel-gas code asks for an input [W] without openings [m3].

    >>> round(least_volume(1000.0), 1)
    4.8
    """
    rule = catalogue("combustion_air")["room volume"].values
    per_input = parse(rule["per_input"].value, "volume")
    return heat_input * per_input / parse(rule["input"].value, "power")


def two_openings(heat_input: float) -> float:
    """Openings to the outside that it asks in a smaller room, both together [m2].

    >>> round(two_openings(1000.0) / 1e-4, 1)
    11.0
    """
    rule = catalogue("combustion_air")["openings of a confined space"].values
    per_input = parse(rule["per_input"].value, "opening")
    return 2.0 * heat_input * per_input / parse(rule["input"].value, "power")


def keeps(asked: float, shelter: Shelter) -> bool | None:
    """Whether the listed openings are as large as asked; None where none is listed."""
    if not shelter.openings:
        return None
    return sum(opening.area for opening in shelter.openings) >= asked * (1.0 - 1e-9)


def vent_rule(shelter: Shelter) -> Rule:
    """The fixed vents of leisure vehicles."""
    asked = fixed_vents(shelter.floor_area)
    return Rule(
        code="fixed-vents",
        asks=f"fixed vents of {asked / CM2:.0f} cm2 for a floor of {shelter.floor_area:.1f} m2, "
        "some of them low",
        asked_cm2=asked / CM2,
        asked_m3=None,
        kept=keeps(asked, shelter),
        source="EN 721, from memory",
    )


def flame_rules(trip: Trip, shelter: Shelter) -> Iterator[Rule]:
    """What is asked of rooms with open flames."""
    heat = unvented_input(trip)
    if heat == 0.0:
        return
    rules = catalogue("combustion_air")
    volume, asked = least_volume(heat), two_openings(heat)
    roomy = shelter.volume >= volume
    yield Rule(
        code="room-volume",
        asks=f"a room of {volume:.1f} m3 for the {heat:.0f} W of flames without a flue, or else "
        f"two openings; it has {shelter.volume:.1f} m3",
        asked_cm2=None,
        asked_m3=volume,
        kept=roomy,
        source=rules["room volume"].values["per_input"].source,
    )
    if not roomy:
        yield Rule(
            code="two-openings",
            asks=f"{asked / CM2:.0f} cm2 to the outside, half within 30 cm of the top and half "
            "within 30 cm of the bottom, none narrower than 76 mm",
            asked_cm2=asked / CM2,
            asked_m3=None,
            kept=keeps(asked, shelter),
            source=rules["openings of a confined space"].values["per_input"].source,
        )
    window = rules["openable window"].values["volume"]
    room = parse(window.value, "volume")
    yield Rule(
        code="openable-window",
        asks=f"a window that opens and a room of {window.value}; it has {shelter.volume:.1f} m3",
        asked_cm2=None,
        asked_m3=room,
        kept=None if shelter.volume >= room else False,
        source=window.source,
    )


def rules(trip: Trip, shelter: Shelter) -> tuple[Rule, ...]:
    """Every rule that applies to a trip."""
    return (vent_rule(shelter), *flame_rules(trip, shelter))


class Sizes(NamedTuple):
    """Least openings in still air [m2], by what they are for; None where none is enough."""

    people: float | None
    """Fit air with every flame without a flue out."""
    flames: float | None
    """Fit air with the flames as the trip uses them."""
    windows: float | None
    """Dry windows, within reason."""


def unlit(ran: AirRun) -> AirBook:
    """What the air comes to if nothing burns in it."""
    line, made = ran.night.line, ran.night.sources
    others = line._replace(made=made.people + made.cooking)
    return air_of(others, ran.night.room, ran.night.limits).book


def dry(tried: AirRun, length: float) -> bool:
    """Whether the windows count as dry."""
    return tried.book.window_wet <= DRY * length


def reasonable(tried: AirRun, first: AirRun) -> bool:
    """Whether an opening does not cost too much fuel, or the warmth itself."""
    burned, before = (float(each.done.outcome.burned.sum()) for each in (tried, first))
    cold, was_cold = (each.done.outcome.failures.seconds[HEAT_SHORT] for each in (tried, first))
    return burned <= REASON * before + 1e-9 and not cold < was_cold


def by_physics(trip: Trip, shelter: Shelter, weather: WeatherTable) -> Sizes:
    """Try openings from none on until everything is met, or no larger one can help."""
    still, sizes, sensible = calm(weather), Sizes(None, None, None), True
    first: AirRun | None = None
    for size in SIZES:
        tried = air_run(replace(trip, shelter=with_openings(shelter, size)), weather, still)
        first = first or tried
        sensible = sensible and reasonable(tried, first)
        met = (
            unlit(tried).unfit == 0.0,
            tried.book.unfit == 0.0,
            sensible and dry(tried, trip.length),
        )
        sizes = Sizes(
            *(size if now and was is None else was for was, now in zip(sizes, met, strict=True))
        )
        if sizes.flames is not None and (sizes.windows is not None or not sensible):
            break
    return sizes


def needed(trip: Trip, shelter: Shelter, weather: WeatherTable) -> Openings:
    """The openings that a trip needs, never less than the rules."""
    asked = rules(trip, shelter)
    least = max(rule.asked_cm2 or 0.0 for rule in asked)
    people, flames, windows = (
        None if size is None else size / CM2 for size in by_physics(trip, shelter, weather)
    )
    always = None if people is None else max(least, people, windows or 0.0)
    burning = None if flames is None or always is None else max(always, flames)
    return Openings(
        listed_cm2=sum(opening.area for opening in shelter.openings) / CM2,
        gaps_cm2=shelter.gap_area / CM2,
        rules=asked,
        rule_cm2=least,
        for_people_cm2=people,
        for_flames_cm2=flames,
        for_windows_cm2=windows,
        always_cm2=always,
        while_burning_cm2=burning,
        why=" ".join(reasons(least, people, flames, windows, shelter.window is not None)),
    )


def reasons(
    least: float, people: float | None, flames: float | None, windows: float | None, panes: bool
) -> Iterator[str]:
    """What decides, and what no opening of `SIZES` can do; openings in cm2."""
    if people is None:
        yield "Not even a roof hatch keeps the air fit for so many in so small a room."
    elif max(people, windows or 0.0) <= least:
        yield "The standards' rule decides: the physics asks for less."
    elif (windows or 0.0) > people:
        yield "Dry windows decide."
    else:
        yield "Fit air for the people decides."
    if flames is None and people is not None:
        yield (
            "Not even a roof hatch keeps the air fit while the flames without a flue burn: put "
            "them out, or heat with a flue."
        )
    elif flames is not None and people is not None and flames > max(least, people, windows or 0.0):
        yield "While a flame without a flue burns, it needs more."
    if panes and windows is None:
        yield (
            "No opening keeps the windows dry within reason: make less water, heat with a flue, "
            "or better the panes."
        )
