"""What may go into a container: the code's table, and the cylinders that are sold full."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.errors import OverfillError, TripError
from coldsoak.rig.filling import filling_density, limits
from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import Fuel

from .example import SMALLEST, refusal, trip_with

ROWS = list(
    csv.DictReader(
        (Path(__file__).parent / "published_filling.csv").read_text("utf-8").splitlines()[2:]
    )
)
PROPANE = Fuel("propane", (0.0, 1.0, 0.0, 0.0, 0.0), (0.0, 1.0, 0.0, 0.0, 0.0))


@pytest.mark.parametrize("row", ROWS, ids=[row["percent"] for row in ROWS])
def test_both_ends_of_a_row_have_the_filling_density_of_the_table(row: dict[str, str]) -> None:
    for end in ("gravity_low", "gravity_high"):
        assert filling_density(float(row[end])) == pytest.approx(int(row["percent"]) / 100)


def test_the_code_s_gauge_example_weighs_the_same_by_weight_and_by_volume() -> None:
    # NFPA 58 example: 42 % by weight at specific gravity 0.510 is 79.8 % of the volume at 40 F, so
    # both limits of pure propane agree to that 0.3 % and the density table's rounding
    found = limits(1.0, PROPANE)
    assert found.by_volume == pytest.approx(found.by_weight, rel=0.005)


@pytest.mark.parametrize(
    ("size", "fill", "blend"),
    [
        *((f"{pounds} lb", f"{pounds} lb", "HD-5") for pounds in (5, 10, 11, 20, 30, 40, 60, 100)),
        *((f"{kg} kg", f"{kg} kg", "commercial propane") for kg in (5, 6, 11, 13, 15, 33)),
        *((f"{grams} g", f"{grams} g", "isobutane-propane 80/20") for grams in (110, 230, 450)),
        ("13 kg butane", "13 kg", "commercial butane"),
    ],
)
def test_a_cylinder_may_hold_what_it_is_sold_with(size: str, fill: str, blend: str) -> None:
    text = SMALLEST.replace('"20 lb"', f'"{size}"').replace('"15 lb"', f'"{fill}"')
    assert parse_trip(f'{text}\n[fuel]\nblend = "{blend}"').cylinders[0].contents > 0


@pytest.mark.parametrize(
    "contents",
    [
        'contents = "20.5 lb"',
        'contents = "10 kg"',
        'gross = "40 lb"',
        'fill = "81 %"',
        'contents = "18 lb .. 21 lb"',
    ],
)
def test_more_than_the_limit_ends_with_the_caution(contents: str) -> None:
    error = refusal('contents = "15 lb"', contents, SMALLEST)
    assert isinstance(error, OverfillError)
    assert error.line == 5
    for word in (
        "do not use it",
        "outside",
        "flames",
        "do not let gas out",
        "call the gas supplier",
    ):
        assert word in str(error)


def test_a_propane_fill_does_not_go_into_a_butane_cylinder() -> None:
    text = SMALLEST.replace('"20 lb"', '"13 kg butane"').replace('"15 lb"', '"13 kg"')
    with pytest.raises(OverfillError):
        parse_trip(text + '\n[fuel]\nblend = "HD-5"')


def test_a_tank_filled_by_its_gauge_keeps_the_lower_limit() -> None:
    text = SMALLEST.replace('"20 lb"', '"100 gal"').replace('contents = "15 lb"', 'fill = "80 %"')
    tank = parse_trip(text).cylinders[0]
    assert tank.upright is False
    assert tank.contents < tank.limit < 0.42 * 378.6


@pytest.mark.parametrize(
    ("contents", "word"),
    [
        ("-1 lb", "at least 0 kg"),
        ("nan lb", "finite"),
        ("inf kg", "finite"),
        ("1e30 kg", "at most 2000 kg"),
        ("15 L", "where mass is needed"),
        ("15", "without a unit"),
    ],
)
def test_contents_that_cannot_be_are_refused_with_the_reason(contents: str, word: str) -> None:
    error = refusal('contents = "15 lb"', f'contents = "{contents}"', SMALLEST)
    assert word in str(error)
    assert not isinstance(error, OverfillError)


def test_contents_above_the_water_capacity_are_called_impossible() -> None:
    assert "the water capacity holds no more" in str(refusal('"15 lb"', '"60 lb"', SMALLEST))


def test_a_scale_that_reads_less_than_the_tare_is_refused() -> None:
    error = refusal('contents = "15 lb"', 'gross = "10 lb"', SMALLEST)
    assert "less than the empty cylinder" in str(error)


def test_a_reading_just_above_the_limit_is_accepted_and_noted() -> None:
    trip = trip_with('"15 lb"', '"20.1 lb"', SMALLEST)
    assert any("above the filling limit" in note for note in trip.notes)


@given(st.floats(0.0, 0.8))
def test_a_level_and_its_mass_are_one_statement(share: float) -> None:
    trip = trip_with('contents = "15 lb"', f'fill = "{100 * share:.6f} %"', SMALLEST)
    cylinder = trip.cylinders[0]
    full = limits(cylinder.water_capacity, trip.fuel).liquid_full
    assert cylinder.contents == pytest.approx(share * full, abs=1e-6 * full)


@given(st.floats(0.0, 40.0))
def test_any_contents_are_within_the_limit_or_refused(pounds: float) -> None:
    try:
        cylinder = trip_with('"15 lb"', f'"{pounds:.6f} lb"', SMALLEST).cylinders[0]
    except TripError as error:
        assert isinstance(error, OverfillError)  # noqa: PT017
    else:
        # scales and stamped numbers are rounded to 1 %
        assert 0 <= cylinder.contents <= 1.01 * cylinder.limit
