"""The printed schema is the one that the reader keeps."""

import json
import tomllib
from datetime import datetime
from typing import Any

import jsonschema
import pytest

from coldsoak.rig.schema import trip_schema
from coldsoak.rig.units import dimensions

from .example import GOOD, SMALLEST, changed


def as_json(value: Any) -> Any:
    """TOML data as JSON would carry it."""
    return json.loads(json.dumps(value, default=datetime.isoformat))


def check(text: str) -> None:
    jsonschema.validate(as_json(tomllib.loads(text)), trip_schema())


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(trip_schema())


@pytest.mark.parametrize("text", [GOOD, SMALLEST], ids=["good", "smallest"])
def test_a_good_trip_keeps_the_printed_schema(text: str) -> None:
    check(text)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"18.5 lb"', "18.5"),
        ('size = "20 lb"', 'sise = "20 lb"'),
        ('role = "spare"', 'role = "spar"'),
        ("count = 2", 'count = "2"'),
    ],
)
def test_a_damaged_trip_breaks_it(old: str, new: str) -> None:
    with pytest.raises(jsonschema.ValidationError):
        check(changed(old, new))


def every_key() -> list[tuple[str, dict[str, Any]]]:
    return [
        (f"{name}.{key}", entry)
        for name, table in trip_schema()["$defs"].items()
        for key, entry in table["properties"].items()
    ]


@pytest.mark.parametrize(("key", "entry"), every_key(), ids=[key for key, _ in every_key()])
def test_every_quantity_names_its_units(key: str, entry: dict[str, Any]) -> None:
    formats = {dim.name for dim in dimensions().values()}
    if entry.get("format") in formats:
        assert entry["units"], key
        assert all(unit in entry["description"] for unit in entry["units"])


@pytest.mark.parametrize(("key", "entry"), every_key(), ids=[key for key, _ in every_key()])
def test_every_key_says_what_it_means(key: str, entry: dict[str, Any]) -> None:
    assert len(entry["description"]) > 8, key


def test_a_missing_key_is_no_null() -> None:
    assert '"null"' not in json.dumps(trip_schema())
