"""The people of the trip file resolved: their heat, breath and water."""

from coldsoak.rig.catalogue import Sourced, default
from coldsoak.rig.clock import daily_window
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import People, Window


def resolve_people(section: Section, sheltered: bool, cooks: bool) -> People:
    """Who is inside; they matter to a shelter only. Raises TripError.

    `cooks` tells whether there is a stove: without one no cooking is assumed.
    """
    if not sheltered:
        section.record.note("[people] is not used: there is no [shelter] that they could warm.")
    return People(
        count=section.given("count"),
        heat=section.by_default("heat"),
        asleep=_asleep(section),
        co2_awake=section.by_default("co2_awake"),
        co2_asleep=section.by_default("co2_asleep"),
        water_awake=section.by_default("water_awake"),
        water_asleep=section.by_default("water_asleep"),
        cooking_water=section.number("cooking_water", _cooking(cooks)),
    )


def _asleep(section: Section) -> Window:
    """The daily window in which they sleep."""
    given: Window | None = section.given("asleep")
    return daily_window(section.word("asleep")) if given is None else given


def _cooking(cooks: bool) -> Sourced:
    """Water of cooking for each and a day."""
    entry = default("people.cooking_water")
    return entry if cooks else Sourced("0 kg", "not given: there is no stove", entry.unknown)
