"""The catalogue of generic cylinders: complete, sourced, and bodies that can be."""

import csv
import math
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from coldsoak.rig.body import HEAD_AREA
from coldsoak.rig.catalogue import catalogue, find, nearest
from coldsoak.rig.units import parse

WANTED = (
    *(f"{pounds} lb" for pounds in (5, 10, 11, 20, 30, 40, 60, 100)),
    *(f"{kilograms} kg" for kilograms in (5, 6, 11, 13, 15, 33)),
    *(f"{grams} g" for grams in (110, 230, 450)),
    *(f"{gallons} gal" for gallons in (20, 29, 40, 60, 80, 100, 120, 150, 250, 320, 500)),
)

DIMENSIONS = {
    "water_capacity": "volume",
    "diameter": "length",
    "wall": "length",
    "tare": "mass",
    "overall": "length",
    "marked_fill": "mass",
}

ROWS = list(
    csv.DictReader(
        (Path(__file__).parent / "published_cylinders.csv").read_text("utf-8").splitlines()[2:]
    )
)


def numbers(size: str) -> dict[str, float]:
    """All numbers of an entry in SI."""
    return {
        key: parse(value.value, DIMENSIONS[key])
        for key, value in catalogue("cylinders")[size].values.items()
        if key in DIMENSIONS
    }


def body(size: str) -> tuple[float, float]:
    """Length of the straight part [m] and wall area [m2] of an entry's body."""
    entry = numbers(size)
    diameter = entry["diameter"]
    length = (entry["water_capacity"] - math.pi * diameter**3 / 12) / (math.pi / 4 * diameter**2)
    return length, math.pi * diameter * length + 2 * HEAD_AREA * diameter**2


ALL = tuple(catalogue("cylinders"))


@pytest.mark.parametrize("size", WANTED)
def test_every_common_size_is_there(size: str) -> None:
    assert find("cylinders", size) is not None


@pytest.mark.parametrize("row", ROWS, ids=[row["size"] for row in ROWS])
def test_an_entry_agrees_with_what_is_published(row: dict[str, str]) -> None:
    entry = numbers(row["size"])
    # water capacities are printed to three digits, or to 0.1 L
    assert entry["water_capacity"] * 1000 == pytest.approx(
        float(row["water_capacity_L"]), rel=float(row["relative_rounding"])
    )
    if row["outside_diameter_mm"]:
        # diameters are printed to the millimetre or to 0.1 in
        outside = (entry["diameter"] + 2 * entry["wall"]) * 1000
        assert outside == pytest.approx(float(row["outside_diameter_mm"]), abs=1.3)
    if row["tare_low_kg"]:
        assert float(row["tare_low_kg"]) <= entry["tare"] <= float(row["tare_high_kg"])


@pytest.mark.parametrize("size", ALL)
def test_every_number_has_a_source(size: str) -> None:
    for key, value in catalogue("cylinders")[size].values.items():
        assert value.source, key


@pytest.mark.parametrize("size", ALL)
def test_a_body_weighs_less_than_its_tare_and_more_than_a_third_of_it(size: str) -> None:
    # the rest is collar, foot ring, legs, valve and casing
    entry = catalogue("cylinders")[size]
    density = float(
        catalogue("bodies")[str(entry.values["material"].value)].values["density"].value
    )
    mass = body(size)[1] * numbers(size)["wall"] * density
    assert numbers(size)["tare"] / 3 < mass < numbers(size)["tare"]


@pytest.mark.parametrize("size", ALL)
def test_a_body_is_shorter_than_the_whole_and_fills_most_of_it(size: str) -> None:
    entry = numbers(size)
    height = body(size)[0] + entry["diameter"] / 2 + 2 * entry["wall"]
    assert body(size)[0] > 0
    # collar, foot ring and domes take the rest; a flat canister has the deepest domes
    assert 0.55 * entry["overall"] < height < entry["overall"]


@pytest.mark.parametrize("size", [size for size in ALL if "marked_fill" in numbers(size)])
def test_a_sold_fill_fits_its_water_capacity(size: str) -> None:
    # between the 42 % of propane less rounding and the 50 % of butane
    entry = numbers(size)
    assert 0.40 <= entry["marked_fill"] / entry["water_capacity"] / 1000 <= 0.50


@pytest.mark.parametrize("spelling", ["20 lb", "20lb", "20-LB", " 20  Lb", "20_lb"])
def test_a_size_is_found_however_it_is_spaced(spelling: str) -> None:
    entry = find("cylinders", spelling)
    assert entry is not None
    assert entry.name == "20 lb"


def test_nearest_is_silent_when_nothing_is_near() -> None:
    assert nearest("cylnder", ["cylinder", "supply"]) == "cylinder"
    assert nearest("zzzz", ["cylinder", "supply"]) is None


def every_table() -> list[tuple[str, dict[str, Any]]]:
    folder = files("coldsoak.rig") / "catalogue"
    return [
        (str(path.name), tomllib.loads(path.read_text("utf-8")))
        for path in folder.iterdir()
        if str(path.name).endswith(".toml")
    ]


@pytest.mark.parametrize(("name", "data"), every_table(), ids=[name for name, _ in every_table()])
def test_every_default_of_every_table_names_its_source(name: str, data: dict[str, Any]) -> None:
    if name == "defaults.toml":
        entries = [entry for table in data.values() for entry in table.values()]
        assert all(entry["source"] and "value" in entry for entry in entries)
    elif name != "vents.toml":
        (rows,) = data.values()
        lists = [value for row in rows for value in row.values() if isinstance(value, list)]
        sourced = [value for value in lists if len(value) in (2, 4)]
        assert all(isinstance(value[1], str) and value[1] for value in sourced)
