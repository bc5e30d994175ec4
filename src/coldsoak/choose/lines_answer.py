"""The answer of `coldsoak lines` as data: one object with stable keys."""

# ruff: noqa: N815 - the keys carry their units as units are written (kPa, W)

from typing import Annotated, Any, Literal

from pydantic import Field, PlainSerializer

from coldsoak.choose.answer import Answer, Caution, Celsius, Hours

FaultCode = Literal[
    "second-regulator",
    "reversed-first-stage",
    "fitted-backward",
    "first-stage-missing",
    "no-regulator",
    "quick-connect-overloaded",
    "regulator-overloaded",
    "regulator-too-low",
    "excess-flow",
    "line-too-narrow",
    "cylinder-too-cold",
]
"""What is wrong between the cylinder and a burner."""

Kilopascals = Annotated[
    float, PlainSerializer(lambda v: round(v, 4) + 0.0, return_type=float, when_used="json")
]
"""Small gauge pressures: 0.1 Pa."""
Watts = Annotated[
    float, PlainSerializer(lambda v: round(v, 1) + 0.0, return_type=float, when_used="json")
]
Share = Annotated[
    float, PlainSerializer(lambda v: round(v, 3) + 0.0, return_type=float, when_used="json")
]


class Moment(Answer):
    """The hour that is looked at."""

    hours: Hours = Field(description="Hours since the start of the trip [h].")
    time: str = Field(description="The same moment by the trip's clock, ISO 8601.")
    air_C: Celsius = Field(description="Outside air [degC].")
    station_kPa: Kilopascals = Field(description="Pressure of the air [kPa].")
    cylinder_kPa: Kilopascals = Field(description="In the cylinder, gauge [kPa].")
    cylinder_from: Literal["march", "least inlet pressure"] = Field(
        description="Whether the cylinder's pressure is that of the planned night, or the least "
        "that its regulator needs because the night's is lower."
    )


class ApplianceInlet(Answer):
    """One appliance with everything burning."""

    appliance: str = Field(description="Its name in the trip file.")
    input_W: Watts = Field(description="Gross heat that it asks for at this elevation [W].")
    inlet_kPa: Kilopascals | None = Field(
        description="Gauge pressure at its inlet [kPa]; null if it cannot get its gas."
    )
    needed_kPa: Kilopascals = Field(description="Least inlet pressure that it needs, gauge [kPa].")
    enough: bool = Field(description="Whether it gets what it needs.")
    fed_share: Share = Field(
        description="Largest share of its input at which it alone would have its inlet pressure."
    )


class Stretch(Answer):
    """A line, a regulator or a connector, in the order of the gas."""

    name: str = Field(description="Of the line, or what it is.")
    what: str = Field(description="Size and length, in words.")
    gas_W: Watts = Field(description="Gas through it, as gross heat [W].")
    start_kPa: Kilopascals | None = Field(description="Gauge pressure where it begins [kPa].")
    end_kPa: Kilopascals | None = Field(description="Gauge pressure where it ends [kPa].")
    darcy_kPa: Kilopascals | None = Field(
        description="Drop of its pipe by Darcy's law [kPa], null where there is no pipe or no gas."
    )
    code_kPa: Kilopascals | None = Field(
        description="Drop of its pipe by the fuel-gas code's equation [kPa]."
    )
    decides: Literal["Darcy", "code"] | None = Field(
        description="The stricter of the two, which counts."
    )


class Fault(Answer):
    """Something that is wrong, why it fails, and what to use instead."""

    code: FaultCode = Field(description="Stable name.")
    where: str = Field(description="Line, appliance or regulator.")
    why: str = Field(description="Why it fails.")
    instead: str = Field(description="What to use instead, and who may do it.")


class Mend(Answer):
    """A change after which every appliance has what it needs."""

    what: tuple[str, ...] = Field(description="What to change; more than one only if none will do.")
    inlet_kPa: dict[str, Kilopascals] = Field(description="Inlet pressures then, gauge [kPa].")


class Lines(Answer):
    """Gas pressure at every appliance, all burning."""

    schema_: Literal["coldsoak.lines/1"] = Field(
        default="coldsoak.lines/1", alias="schema", description="Name and version of this shape."
    )
    trip: str = Field(description="Name of the trip.")
    fed: bool = Field(description="Whether every appliance has what it needs, all burning.")
    starved: tuple[str, ...] = Field(description="Appliances that have not.")
    at: Moment = Field(description="The coldest hour of the trip's weather.")
    least_cylinder_kPa: Kilopascals | None = Field(
        description="Least gauge pressure in the cylinder that feeds all [kPa]; null if none does."
    )
    lock_up_kPa: Kilopascals | None = Field(
        description="Pressure behind the first regulator with nothing burning, gauge [kPa]; null "
        "if its numbers are not known."
    )
    appliances: tuple[ApplianceInlet, ...] = Field(description="In the order of the trip file.")
    stretches: tuple[Stretch, ...] = Field(description="From the cylinder on.")
    faults: tuple[Fault, ...] = Field(description="What is wrong, most urgent first.")
    mends: tuple[Mend, ...] = Field(description="Changes that mend it, the smallest first.")
    cautions: tuple[Caution, ...] = Field(description="What must be said with this result.")
    notes: tuple[str, ...] = Field(description="What this answer takes for granted.")


def lines_object(lines: Lines) -> dict[str, Any]:
    """Give the answer as plain dicts, lists and rounded numbers, keys in their fixed order."""
    return lines.model_dump(mode="json", by_alias=True)
