"""The answer about the air inside as data: one object with stable keys, as the plan's."""

# ruff: noqa: N815 - the keys carry their units as units are written

from typing import Annotated, Any, Literal

from pydantic import Field

from coldsoak.choose.answer import Answer, Caution, Celsius, Hours, Kilograms, _rounded

Ppm = Annotated[float, _rounded(0)]
OxygenPercent = Annotated[float, _rounded(2)]
Litres = Annotated[float, _rounded(3)]
Opening = Annotated[float, _rounded(1)]
Flow = Annotated[float, _rounded(3)]
Percent = Annotated[float, _rounded(1)]


class Limits(Answer):
    """How far the air may go on this trip."""

    co2_ppm: Ppm = Field(description="Most carbon dioxide [ppm of dry air].")
    o2_pct: OxygenPercent = Field(description="Least oxygen [% of dry air].")


class Water(Answer):
    """Water given to the air in a night: all of the trip's over its midnights, at least one [L]."""

    people_L: Litres = Field(description="Breath and skin [L].")
    cooking_L: Litres = Field(description="Pots and pans, without the flame's [L].")
    flames_L: Litres = Field(description="Flames without a flue [L].")
    total_L: Litres = Field(description="Together [L].")


class Surface(Answer):
    """The coldest windows, or the coldest wall where air hardly moves."""

    wet_hours: Hours = Field(description="Hours with water or ice on it [h].")
    frozen_hours: Hours = Field(description="Hours with ice on it [h].")
    coldest_C: Celsius = Field(description="Lowest temperature of its inner face [degC].")


class Exchange(Answer):
    """Outside air that comes in through gaps and openings."""

    mean_L_s: Flow = Field(description="Mean over the trip [L/s].")
    least_L_s: Flow = Field(description="Least at any time [L/s].")
    mean_changes_per_h: Flow = Field(description="Mean, over the room's volume [1/h].")


class Rule(Answer):
    """What a standard asks, and what the trip has."""

    code: Literal["fixed-vents", "room-volume", "two-openings", "openable-window"] = Field(
        description="Stable name of the rule."
    )
    asks: str = Field(description="What it asks, as a sentence.")
    asked_cm2: Opening | None = Field(description="Openings that it asks [cm2], null if none.")
    asked_m3: Flow | None = Field(description="Room that it asks [m3], null if none.")
    kept: bool | None = Field(
        description="Whether the trip keeps it; null where the trip file does not tell."
    )
    source: str = Field(description="The standard.")


class Openings(Answer):
    """Openings that the trip needs, half of them low and half high."""

    listed_cm2: Opening = Field(description="Openings that the trip file lists [cm2].")
    gaps_cm2: Opening = Field(
        description="Effective leakage area of gaps and of vents that are not listed [cm2]."
    )
    rules: tuple[Rule, ...] = Field(description="What the standards ask.")
    rule_cm2: Opening = Field(description="The largest openings that a rule asks [cm2].")
    for_people_cm2: Opening | None = Field(
        description="Least openings that keep the air within the limits in still air with no flame "
        "burning in it [cm2]; null if none does."
    )
    for_flames_cm2: Opening | None = Field(
        description="The same with the flames as the trip uses them [cm2]; null if none does."
    )
    for_windows_cm2: Opening | None = Field(
        description="Least openings that leave the windows wet for no more than a tenth of the "
        "time in still air, for no more than a quarter more fuel [cm2]; null if none does."
    )
    always_cm2: Opening | None = Field(
        description="What must be open all the time: the largest of rule, people and windows "
        "[cm2]; null if nothing is enough."
    )
    while_burning_cm2: Opening | None = Field(
        description="What must be open while a flame without a flue burns, never less than that "
        "[cm2]; null if nothing is enough."
    )
    why: str = Field(description="What decides, and what no opening can do, as sentences.")


class Heating(Answer):
    """The same trip heated in one way."""

    by: Literal["vented furnace", "unvented heater"] = Field(description="How it is heated.")
    burned_kg: Kilograms = Field(description="Fuel that the heaters burn [kg].")
    water_L: Litres = Field(description="Water given to the air in a night [L].")
    flame_water_L: Litres = Field(description="Of that, by flames without a flue [L].")
    highest_co2_ppm: Ppm = Field(description="Highest carbon dioxide [ppm].")
    lowest_o2_pct: OxygenPercent = Field(description="Lowest oxygen [%].")
    window_wet_hours: Hours | None = Field(description="Hours with wet windows [h].")
    window_frozen_hours: Hours | None = Field(description="Hours with ice on the windows [h].")
    wall_wet_hours: Hours = Field(description="Hours with a wet wall [h].")


class Closed(Answer):
    """How long the room's air would last with every gap and vent shut: never do it."""

    flames_W: Ppm = Field(description="Gross heat of all flames without a flue together [W].")
    people: int = Field(description="People awake inside.")
    co2_limit_hours: Hours | None = Field(description="To the limit of carbon dioxide [h].")
    o2_limit_hours: Hours | None = Field(description="To the limit of oxygen [h].")
    o2_18_hours: Hours | None = Field(
        description="To 18 % oxygen, where a sensor shuts off a heater that has one [h]."
    )


class Limit(Answer):
    """A published limit of carbon monoxide."""

    body: str = Field(description="Who set it.")
    limit: str = Field(description="What it is called.")
    averaging: str = Field(description="Over what time.")
    value: float = Field(description="In the unit beside it.")
    unit: str = Field(description="ppm, mg/m3 or % by volume.")
    status: str = Field(description="published, or from memory.")


class Alarm(Answer):
    """When an alarm must sound."""

    standard: str = Field(description="The alarm's standard.")
    co_ppm: float = Field(description="Carbon monoxide [ppm].")
    not_before_min: float | None = Field(description="It must not sound before [min].")
    not_after_min: float | None = Field(description="It must sound by [min].")
    status: str = Field(description="published, or from memory.")


class Told(Answer):
    """A measured or ruled fact and its source."""

    what: str = Field(description="The fact.")
    source: str = Field(description="Who measured or ruled it.")
    status: str = Field(description="published, or from memory.")


class CarbonMonoxide(Answer):
    """Carbon monoxide: never a number for this trip."""

    says: str = Field(description="What this answer does not say.")
    if_it_sounds: str = Field(description="What to do when the alarm sounds.")
    alarms: tuple[Alarm, ...] = Field(description="When an alarm must sound.")
    limits: tuple[Limit, ...] = Field(description="Limits, by who set them.")
    flame: tuple[Told, ...] = Field(description="What kills the flame first, and what it does.")


class Apart(Answer):
    """The air at the two ends of one uncertain input, the rest at their middle."""

    key: str = Field(description="Where it stands in the trip file.")
    low: str = Field(description="Its low end, as text with unit.")
    high: str = Field(description="Its high end, as text with unit.")
    highest_co2_ppm_at_low: Ppm = Field(description="Highest carbon dioxide [ppm].")
    highest_co2_ppm_at_high: Ppm = Field(description="Highest carbon dioxide [ppm].")
    window_wet_hours_at_low: Hours | None = Field(description="Hours with wet windows [h].")
    window_wet_hours_at_high: Hours | None = Field(description="Hours with wet windows [h].")


class Spread(Answer):
    """The answer as a range, where inputs of the trip file are ranges or unknown."""

    least_co2_ppm: Ppm = Field(description="Least of the highest carbon dioxide [ppm].")
    most_co2_ppm: Ppm = Field(description="Most of the highest carbon dioxide [ppm].")
    inputs: tuple[Apart, ...] = Field(description="One entry for each uncertain input.")
    measure_first: str | None = Field(
        description="Key of the input most worth measuring, null if none changes the answer."
    )


class Assumed(Answer):
    """A number that every answer about air takes for granted."""

    key: str = Field(description="What it is.")
    value: str = Field(description="Its value, as text with unit.")
    source: str = Field(description="Where it comes from.")


class AirAnswer(Answer):
    """The air inside over a trip, and what keeps it fit."""

    schema_: Literal["coldsoak.air/1"] = Field(
        default="coldsoak.air/1", alias="schema", description="Name and version of this shape."
    )
    trip: str = Field(description="Name of the trip.")
    limits: Limits = Field(description="How far the air may go.")
    highest_co2_ppm: Ppm = Field(description="Highest carbon dioxide [ppm of dry air].")
    highest_co2_time: str = Field(description="When, by the trip's clock, ISO 8601.")
    lowest_o2_pct: OxygenPercent = Field(description="Lowest oxygen [% of dry air].")
    lowest_o2_time: str = Field(description="When, by the trip's clock, ISO 8601.")
    unfit_hours: Hours = Field(description="Hours beyond a limit [h].")
    unfit_from: str | None = Field(description="When a limit is passed first, null if never.")
    windows: Surface | None = Field(description="Null without windows.")
    walls: Surface = Field(description="The coldest wall.")
    water_per_night: Water = Field(description="Water given to the air.")
    exchange: Exchange = Field(description="Outside air that comes in.")
    openings: Openings = Field(description="Openings that are needed.")
    heating: tuple[Heating, ...] = Field(
        description="The same trip with a vented furnace and with an unvented heater; empty where "
        "nothing heats the room."
    )
    closed_room: Closed = Field(description="How long the air would last with everything shut.")
    carbon_monoxide: CarbonMonoxide = Field(description="Never a number for this trip.")
    range: Spread | None = Field(description="Null unless inputs are uncertain.")
    cautions: tuple[Caution, ...] = Field(description="What must be said with this answer.")
    notes: tuple[str, ...] = Field(description="What it leaves out.")
    assumptions: tuple[Assumed, ...] = Field(
        description="Numbers beyond those that `coldsoak explain` lists for the trip."
    )


def air_object(answer: AirAnswer) -> dict[str, Any]:
    """Give the answer as plain dicts, lists and rounded numbers, keys in their fixed order."""
    return answer.model_dump(mode="json", by_alias=True)


def air_schema() -> dict[str, Any]:
    """Give the JSON schema of the answer."""
    return AirAnswer.model_json_schema(by_alias=True, mode="serialization")
