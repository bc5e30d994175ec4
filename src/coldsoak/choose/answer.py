"""The plan as data: one object with stable keys, the same for every face and for other programs.

Numbers are kept in full here and rounded only when written as JSON, to what a scale or a
gauge could ever show; ``balance`` is written in full because it is a check and no
measurement. Not-a-number and infinity are refused: what does not exist is ``None``.
"""

# ruff: noqa: N815 - the keys of the plan carry their units as units are written (kPa, kJ)

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PlainSerializer

Verdict = Literal["holds", "thin", "fails"]
"""holds: passes with air 3 K colder and contents 3 % less too; fails: the nominal run fails;
thin: the rest."""

Cause = Literal[
    "vapor-limited",
    "empty",
    "residue",
    "line-limited",
    "regulator-limited",
    "excess-flow",
    "battery",
    "heat-short",
    "freezing",
    "air",
]
"""Why the gas or the heat stops; meanings in :data:`CAUSES`."""

CAUSES: dict[Cause, str] = {
    "vapor-limited": "the cold liquid no longer boils fast enough to feed the regulator",
    "empty": "the liquid is gone",
    "residue": "what is left is too heavy to boil at this air temperature",
    "line-limited": "too much pressure is lost in the lines with everything burning",
    "regulator-limited": "the regulator cannot pass what the burners ask for",
    "excess-flow": "the excess-flow valve closed",
    "battery": "the battery cannot run the blower and controls",
    "heat-short": "the furnace runs and cannot hold the room within 3 K of its set point",
    "freezing": "it freezes inside",
    "air": "the air inside is no longer fit to breathe",
}


def _rounded(digits: int) -> PlainSerializer:
    """Write a float as JSON with that many decimals."""
    return PlainSerializer(
        lambda value: round(value, digits) + 0.0, return_type=float, when_used="json"
    )


Hours = Annotated[float, _rounded(3)]
Kilograms = Annotated[float, _rounded(4)]
Celsius = Annotated[float, _rounded(2)]
Kilopascals = Annotated[float, _rounded(2)]
Kilojoules = Annotated[float, _rounded(1)]
Percent = Annotated[float, _rounded(1)]
Share = Annotated[float, _rounded(4)]


class Answer(BaseModel):
    """What all parts of a plan have in common: fixed, finite, no unknown keys."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", allow_inf_nan=False, populate_by_name=True
    )


class Failure(Answer):
    """The first moment at which gas or heat stops."""

    hours: Hours = Field(description="Hours since the start of the trip [h].")
    time: str = Field(description="The same moment by the trip's clock, ISO 8601.")
    cause: Cause = Field(description="Why, as a code.")
    what: str = Field(description="What happens, as a sentence.")


class Chance(Answer):
    """Chance of failure over many weathers and uncertain inputs."""

    of_failure: Share = Field(description="Share of the runs that fail at any hour, 0 to 1.")
    upper_95: Share = Field(description="Upper 95 % bound of that chance, 0 to 1.")
    by_cause: dict[Cause, Share] = Field(description="Share of the runs that fail by each cause.")


class Fuel(Answer):
    """Fuel of all cylinders together."""

    start_kg: Kilograms = Field(description="At the start [kg].")
    burned_kg: Kilograms = Field(description="Burned over the trip [kg].")
    left_kg: Kilograms = Field(description="Left at the end, residue included [kg].")
    residue_kg: Kilograms = Field(
        description="Part of what is left that cannot boil at the air's temperature [kg]."
    )
    by_appliance_kg: dict[str, Kilograms] = Field(description="Burned by each appliance [kg].")


class CylinderEnd(Answer):
    """One cylinder over the whole trip."""

    name: str = Field(description="Its name in the trip file.")
    left_kg: Kilograms = Field(description="Left in it at the end [kg].")
    lowest_liquid_C: Celsius = Field(description="Lowest temperature of its liquid [degC].")
    lowest_gauge_kPa: Kilopascals = Field(
        description="Lowest vapor pressure in it, gauge against the station pressure [kPa]."
    )
    lowest_margin_kPa: Kilopascals = Field(
        description="Lowest gauge pressure above the least that its regulator needs [kPa]; "
        "under zero it could not feed."
    )
    failed_at_hours: Hours | None = Field(
        description="When it could no longer feed the regulator [h], null if never."
    )


class Stores(Answer):
    """Where the heat that made the vapor came from, up to the first failure or the end."""

    vapor_kJ: Kilojoules = Field(
        description="Mass taken from the vapor space, times latent heat [kJ]."
    )
    sensible_kJ: Kilojoules = Field(description="Cooling of liquid and wetted steel [kJ].")
    wall_kJ: Kilojoules = Field(description="Through the wall, without frost and heater [kJ].")
    frost_kJ: Kilojoules = Field(description="Dew and frost on the wall, signed [kJ].")
    heater_kJ: Kilojoules = Field(description="Heater on the cylinder [kJ].")


class Swap(Answer):
    """A change of cylinders that somebody has to make."""

    hours: Hours = Field(description="Hours since the start of the trip [h].")
    time: str = Field(description="The same moment by the trip's clock, ISO 8601.")
    from_: str = Field(alias="from", description="Cylinder that is taken off.")
    to: str = Field(description="Cylinder that is put on.")
    why: str = Field(description="Why at that hour, as a sentence.")


class ShelterEnd(Answer):
    """The room over the trip."""

    lowest_inside_C: Celsius = Field(description="Lowest air temperature inside [degC].")
    freezing_at_hours: Hours | None = Field(
        description="When the air inside first falls to 0 degC [h], null if never."
    )


class BatteryEnd(Answer):
    """The battery over the trip."""

    lowest_state_pct: Percent = Field(description="Lowest state of charge [%].")
    cut_out_at_hours: Hours | None = Field(
        description="When the low-voltage cut-out opens [h], null if never."
    )


class AirEnd(Answer):
    """The air in the room over the trip."""

    highest_co2_ppm: Annotated[float, _rounded(0)] = Field(
        description="Highest carbon dioxide [ppm]."
    )
    lowest_o2_pct: Annotated[float, _rounded(2)] = Field(description="Lowest oxygen [%].")
    window_wet_hours: Hours = Field(description="Hours with water on the windows [h].")


class LineEnd(Answer):
    """Gas pressure at one appliance with everything burning."""

    appliance: str = Field(description="Its name in the trip file.")
    lowest_inlet_kPa: Kilopascals = Field(description="Lowest inlet pressure, gauge [kPa].")
    needed_kPa: Kilopascals = Field(description="Inlet pressure that it needs, gauge [kPa].")


class Balance(Answer):
    """How well mass and energy close, relative to what was burned (at least 1 g)."""

    mass_rel: float = Field(description="Mass error over mass burned.")
    energy_rel: float = Field(description="Energy error over the gross heat of what was burned.")


class Caution(Answer):
    """What must be said with this result."""

    code: str = Field(description="Stable name of the caution.")
    text: str = Field(description="The caution.")


class UncertainInput(Answer):
    """What the answer would be at the two ends of one uncertain input, the rest at their middle."""

    key: str = Field(description="Where it stands in the trip file.")
    low: str = Field(description="Its low end, as text with unit.")
    high: str = Field(description="Its high end, as text with unit.")
    verdict_at_low: Verdict = Field(description="Verdict with the low end.")
    verdict_at_high: Verdict = Field(description="Verdict with the high end.")
    failure_hours_at_low: Hours | None = Field(description="First failure [h], null if none.")
    failure_hours_at_high: Hours | None = Field(description="First failure [h], null if none.")
    left_kg_at_low: Kilograms = Field(description="Fuel left at the end [kg].")
    left_kg_at_high: Kilograms = Field(description="Fuel left at the end [kg].")


class Range(Answer):
    """The answer as a range, when inputs of the trip file are ranges or unknown."""

    best: Verdict = Field(description="Best verdict over the ends of the uncertain inputs.")
    worst: Verdict = Field(description="Worst verdict over the ends of the uncertain inputs.")
    earliest_failure_hours: Hours | None = Field(
        description="Earliest first failure [h], null if no end fails."
    )
    latest_failure_hours: Hours | None = Field(
        description="Latest first failure [h], null if an end does not fail."
    )
    least_left_kg: Kilograms = Field(description="Least fuel left at the end [kg].")
    most_left_kg: Kilograms = Field(description="Most fuel left at the end [kg].")
    inputs: tuple[UncertainInput, ...] = Field(description="One entry for each uncertain input.")
    measure_first: str | None = Field(
        description="Key of the input most worth measuring, null if none changes the answer."
    )


class Plan(Answer):
    """The answer to `will it hold`, with what it rests on."""

    schema_: Literal["coldsoak.plan/1"] = Field(
        default="coldsoak.plan/1", alias="schema", description="Name and version of this shape."
    )
    trip: str = Field(description="Name of the trip.")
    verdict: Verdict = Field(
        description="holds: passes with air 3 K colder and contents 3 % less too; "
        "fails: the nominal run fails; thin: the rest."
    )
    first_failure: Failure | None = Field(description="With the changes of cylinders as planned.")
    as_packed_failure: Failure | None = Field(description="With nobody touching anything.")
    chance: Chance | None = Field(description="Null until the ensemble was asked for.")
    fuel: Fuel = Field(description="Fuel of all cylinders together.")
    cylinders: tuple[CylinderEnd, ...] = Field(description="In the order of the trip file.")
    stores: Stores = Field(description="Where the heat that made the vapor came from.")
    swaps: tuple[Swap, ...] = Field(description="When to change cylinders.")
    shelter: ShelterEnd | None = Field(description="Null without a shelter.")
    battery: BatteryEnd | None = Field(description="Null without a battery.")
    air: AirEnd | None = Field(description="Null when the air inside is not modelled.")
    lines: tuple[LineEnd, ...] = Field(description="Empty when lines are not modelled.")
    balance: Balance = Field(description="How well mass and energy close.")
    cautions: tuple[Caution, ...] = Field(description="What must be said with this result.")
    notes: tuple[str, ...] = Field(description="What this plan does not know.")
    range: Range | None = Field(
        default=None, description="Null unless inputs of the trip file are uncertain."
    )


def plan_object(plan: Plan) -> dict[str, Any]:
    """Give the plan as plain dicts, lists and rounded numbers, keys in their fixed order."""
    return plan.model_dump(mode="json", by_alias=True)


def plan_schema() -> dict[str, Any]:
    """Give the JSON schema of the plan object."""
    return Plan.model_json_schema(by_alias=True, mode="serialization")
