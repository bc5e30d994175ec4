"""``coldsoak air``: what the air inside comes to, and what openings keep it fit."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

import click

from coldsoak.faces import clock, options, shown
from coldsoak.faces.jsontext import json_text
from coldsoak.faces.progress import waiting
from coldsoak.faces.tripfile import trip_file

if TYPE_CHECKING:
    from rich.table import Table

    from coldsoak.choose.air_answer import AirAnswer, CarbonMonoxide, Rule, Surface
    from coldsoak.rig.trip import Trip

CM2 = 1e-4
LITRE = 1e-3

RULES = {
    "fixed-vents": "fixed vents by floor area",
    "room-volume": "room for the flames",
    "two-openings": "two openings, high and low",
    "openable-window": "a window that opens, room",
}
"""What each rule asks, in few words."""

KEPT = {True: "kept", False: "not kept", None: "not told"}

FIRST_LIMITS = (
    ("WHO 2021 AQG", "guideline"),
    ("ACGIH", "TLV-TWA"),
    ("NIOSH", "ceiling"),
    ("NIOSH", "IDLH (revised)"),
)
"""Limits of carbon monoxide that are printed; the others stand in --json."""


def answered(path: str) -> tuple["Trip", "AirAnswer"]:
    """Read a trip and its weather and answer for its air."""
    file = trip_file(path)
    with waiting("working out the air"):
        from coldsoak.choose.air import make_air
        from coldsoak.rig.read import read_trip
        from coldsoak.weather.read import weather_of

        trip = read_trip(file)
        return trip, make_air(trip, weather_of(trip))


def when(iso: str) -> str:
    """A moment of the answer as people say it."""
    return clock.moment(datetime.fromisoformat(iso))


def opening(square_centimeters: float | None, units: str) -> str:
    """Free area of openings; that of none that is enough.

    >>> opening(115.0, "us"), opening(None, "si")
    ('17.8 in2', 'no opening is enough')
    """
    from coldsoak.rig.units import show

    if square_centimeters is None:
        return "no opening is enough"
    return show(square_centimeters * CM2, "opening", units)


def water(litres: float, units: str) -> str:
    """Volume of water.

    >>> water(3.06, "si"), water(3.06, "us")
    ('3.1 L', '0.81 gal')
    """
    from coldsoak.rig.units import show

    return show(litres * LITRE, "volume", units)


def room(cubic_meters: float, units: str) -> str:
    """Volume of a room.

    >>> room(9.2, "si"), room(9.2, "us")
    ('9.2 m3', '325 ft3')
    """
    from coldsoak.rig.units import scale

    if units == "si":
        return f"{cubic_meters:.1f} m3"
    return f"{cubic_meters / scale('ft3', 'volume').factor:.0f} ft3"


def while_of(hours: float | None) -> str:
    """A span of time: minutes if it is short.

    >>> while_of(0.302), while_of(4.21)
    ('18 min', '4.2 h')
    """
    if hours is None:
        return "never"
    return f"{hours * 60:.0f} min" if hours < 2.0 else clock.duration(hours)


def air_lines(answer: "AirAnswer") -> Iterator[str]:
    """Carbon dioxide and oxygen at their worst, and for how long they are beyond a limit."""
    yield (
        f"carbon dioxide up to {answer.highest_co2_ppm:.0f} ppm, {when(answer.highest_co2_time)} "
        f"(limit {answer.limits.co2_ppm:.0f})"
    )
    yield (
        f"oxygen down to {answer.lowest_o2_pct:.1f} %, {when(answer.lowest_o2_time)} "
        f"(limit {answer.limits.o2_pct:g})"
    )
    if answer.unfit_from is None:
        yield "within its limits the whole trip"
    else:
        hours = clock.duration(answer.unfit_hours)
        yield f"UNFIT for {hours}, first from {when(answer.unfit_from)}"


def surface_line(surface: "Surface | None", units: str) -> str | None:
    """How long something is wet and frozen."""
    if surface is None:
        return None
    coldest = shown.celsius(surface.coldest_C, units)
    if surface.wet_hours == 0.0:
        return f"dry, coldest {coldest}"
    frozen = "" if surface.frozen_hours == 0.0 else f", ice {surface.frozen_hours:.1f} h"
    return f"wet {clock.duration(surface.wet_hours)}{frozen}, coldest {coldest}"


def water_line(answer: "AirAnswer", units: str) -> str:
    """Water a night, by who gives it."""
    made = answer.water_per_night
    return (
        f"{water(made.total_L, units)} a night: people {water(made.people_L, units)}, cooking "
        f"{water(made.cooking_L, units)}, flames {water(made.flames_L, units)}"
    )


def exchange_line(answer: "AirAnswer") -> str:
    """Outside air that comes in."""
    flow = answer.exchange
    return (
        f"{flow.mean_L_s:.1f} L/s, {flow.mean_changes_per_h:.2f} changes an hour; least "
        f"{flow.least_L_s:.1f} L/s"
    )


def opening_lines(answer: "AirAnswer", units: str) -> Iterator[str]:
    """What must be open, and what decides."""
    found = answer.openings
    yield f"always {opening(found.always_cm2, units)}, half of it low and half high"
    if found.while_burning_cm2 != found.always_cm2:
        yield (f"while a flame without a flue burns: {opening(found.while_burning_cm2, units)}")
    listed = opening(found.listed_cm2, units) if found.listed_cm2 else "none"
    yield f"listed: {listed}; gaps and unlisted vents {opening(found.gaps_cm2, units)}"
    yield found.why


def rule_cells(rule: "Rule", units: str) -> tuple[str, str, str, str]:
    """One rule as cells of a table."""
    asked = "" if rule.asked_cm2 is None else opening(rule.asked_cm2, units)
    if rule.asked_m3 is not None:
        asked = room(rule.asked_m3, units)
    return RULES[rule.code], asked, KEPT[rule.kept], rule.source.partition(":")[0]


def rule_table(answer: "AirAnswer", units: str) -> "Table":
    """The rules of the standards."""
    return columns(
        ("rule", "asks", "", "source"),
        [rule_cells(rule, units) for rule in answer.openings.rules],
    )


def heating_table(answer: "AirAnswer", units: str) -> "Table":
    """A vented furnace beside an unvented heater."""
    rows = [
        (
            way.by,
            shown.mass(way.burned_kg, units),
            water(way.water_L, units),
            f"{way.highest_co2_ppm:.0f} ppm",
            f"{way.lowest_o2_pct:.1f} %",
            "" if way.window_wet_hours is None else f"{way.window_wet_hours:.1f} h",
            f"{way.wall_wet_hours:.1f} h",
        )
        for way in answer.heating
    ]
    names = ("heated by", "fuel", "water a night", "CO2", "oxygen", "panes wet", "wall wet")
    return columns(names, rows)


def columns(names: Sequence[str], rows: Iterable[Sequence[str]]) -> "Table":
    """A plain table."""
    from rich.table import Table

    from coldsoak.faces.paper import SLATE

    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False, header_style=SLATE)
    for name in names:
        table.add_column(name, overflow="fold")
    for row in rows:
        table.add_row(*row)
    return table


def shut_line(answer: "AirAnswer") -> str:
    """How long the air would last with everything shut."""
    shut = answer.closed_room
    if shut.co2_limit_hours is None:
        return "nothing here spends the air"
    flames = "with these flames burning, " if shut.flames_W else ""
    first, second, third = (
        while_of(hours) for hours in (shut.co2_limit_hours, shut.o2_limit_hours, shut.o2_18_hours)
    )
    return (
        f"never: {flames}carbon dioxide would pass its limit after {first}, oxygen after "
        f"{second}, and 18 %, where a sensor shuts off a heater that has one, after {third}"
    )


def alarm_lines(told: "CarbonMonoxide") -> Iterator[str]:
    """When alarms must sound, a line for each standard."""
    for standard in dict.fromkeys(alarm.standard for alarm in told.alarms):
        marks = [
            f"{alarm.co_ppm:.0f} ppm within {alarm.not_after_min:.0f} min"
            for alarm in told.alarms
            if alarm.standard == standard and alarm.not_after_min is not None
        ]
        yield f"{standard} alarms sound at {', '.join(marks)}"


def limit_line(told: "CarbonMonoxide") -> str:
    """Some limits of carbon monoxide."""
    picked = [
        f"{limit.body} {limit.value:g} {limit.unit} {limit.averaging}".strip()
        for limit in told.limits
        if (limit.body, limit.limit) in FIRST_LIMITS
    ]
    return f"limits: {', '.join(picked)} ({len(told.limits) - len(picked)} more in --json)"


def print_air(trip: "Trip", answer: "AirAnswer", units: str) -> None:
    """Print the answer for one trip."""
    from coldsoak.faces.paper import paper
    from coldsoak.faces.screen import bullets, entry

    told = answer.carbon_monoxide
    span = clock.duration(trip.length / 3600.0)
    console = paper()
    console.print(f"{answer.trip}  {clock.moment(trip.start)}, {span}", style="bold")
    console.print(
        *entry("air", air_lines(answer)),
        *entry("windows", [surface_line(answer.windows, units)]),
        *entry("walls", [surface_line(answer.walls, units)]),
        *entry("water", [water_line(answer, units)]),
        *entry("fresh air", [exchange_line(answer)]),
        *entry("openings", opening_lines(answer, units)),
        "",
        rule_table(answer, units),
        *(["", heating_table(answer, units)] if answer.heating else []),
        "",
        *entry("all shut", [shut_line(answer)]),
        *entry("CO", [told.says, *alarm_lines(told), told.if_it_sounds, limit_line(told)]),
        *bullets("The flame: ", [f"{fact.what} ({fact.source})" for fact in told.flame]),
        *bullets("Take care: ", [caution.text for caution in answer.cautions]),
        *bullets("Not known: ", answer.notes),
        sep="\n",
    )


@click.command("air")
@options.trip
@options.as_json
@options.units
def command(trip: str, as_json: bool, units: str) -> None:
    """Ventilation, moisture and CO2: what the air inside comes to, what must be open.

    TRIP is a trip file or the folder that holds trip.toml. Nothing here says anything about
    carbon monoxide, and required vents are never closed.
    """
    from coldsoak.choose.air_answer import air_object

    the_trip, answer = answered(trip)
    if as_json:
        click.echo(json_text(air_object(answer)))
    else:
        print_air(the_trip, answer, units)
