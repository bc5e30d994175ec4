"""The plan object has the keys that other programs rely on, and never a number that is none."""

import json
import math

import pytest
from pydantic import ValidationError

from coldsoak.choose.answer import CAUSES, Balance, Failure, Plan, Swap, plan_object, plan_schema

KEYS = [
    "schema",
    "trip",
    "verdict",
    "first_failure",
    "as_packed_failure",
    "chance",
    "fuel",
    "cylinders",
    "stores",
    "swaps",
    "shelter",
    "battery",
    "air",
    "lines",
    "balance",
    "cautions",
    "notes",
    "range",
]
"""The plan as data, design of the project, in its order."""


def smallest_plan() -> Plan:
    """A plan of a trip with nothing in it."""
    return Plan.model_validate(
        {
            "trip": "nothing",
            "verdict": "holds",
            "first_failure": None,
            "as_packed_failure": None,
            "chance": None,
            "fuel": {
                "start_kg": 1.23456789,
                "burned_kg": 0.0,
                "left_kg": 1.23456789,
                "residue_kg": 0.0,
                "by_appliance_kg": {},
            },
            "cylinders": [],
            "stores": dict.fromkeys(
                ("vapor_kJ", "sensible_kJ", "wall_kJ", "frost_kJ", "heater_kJ"), -0.001
            ),
            "swaps": [],
            "shelter": None,
            "battery": None,
            "air": None,
            "lines": [],
            "balance": {"mass_rel": 1.23456789e-9, "energy_rel": 0.0},
            "cautions": [],
            "notes": [],
        }
    )


def test_the_keys_stand_in_their_order() -> None:
    assert list(plan_object(smallest_plan())) == KEYS
    assert list(plan_schema()["properties"]) == KEYS


def test_the_plan_names_its_schema() -> None:
    assert plan_object(smallest_plan())["schema"] == "coldsoak.plan/1"


def test_numbers_are_rounded_when_written_and_kept_in_full_before() -> None:
    plan = smallest_plan()
    assert plan.fuel.start_kg == 1.23456789
    assert plan_object(plan)["fuel"]["start_kg"] == 1.2346


def test_the_balance_is_written_in_full() -> None:
    assert plan_object(smallest_plan())["balance"]["mass_rel"] == 1.23456789e-9


def test_what_rounds_to_zero_is_not_minus_zero() -> None:
    assert math.copysign(1.0, plan_object(smallest_plan())["stores"]["frost_kJ"]) == 1.0


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_none_is_refused(number: float) -> None:
    with pytest.raises(ValidationError):
        Balance(mass_rel=number, energy_rel=0.0)


def test_an_unknown_cause_is_refused() -> None:
    with pytest.raises(ValidationError):
        Failure(hours=1.0, time="2026-01-16T16:00:00", cause="cold", what="it is cold.")  # type: ignore[arg-type]


def test_a_swap_is_written_with_the_key_from() -> None:
    swap = Swap(hours=1.0, time="2026-01-16T17:00:00", from_="A", to="B", why="because.")
    assert list(swap.model_dump(mode="json", by_alias=True)) == [
        "hours",
        "time",
        "from",
        "to",
        "why",
    ]


def test_a_written_plan_reads_back_as_the_same_keys() -> None:
    written = json.loads(json.dumps(plan_object(smallest_plan()), allow_nan=False))
    assert plan_object(Plan.model_validate(written)) == written


def test_every_key_of_the_schema_is_described() -> None:
    schema = plan_schema()
    for part in (schema, *schema["$defs"].values()):
        for name, entry in part["properties"].items():
            target = schema["$defs"].get(entry.get("$ref", "").removeprefix("#/$defs/"), entry)
            assert target.get("description"), name


def test_every_cause_has_words() -> None:
    assert set(CAUSES) == set(plan_schema()["$defs"]["Failure"]["properties"]["cause"]["enum"])
