"""Water of a trip file, through its resolver; the file itself does not take it yet."""

import tomllib
from typing import Any

import pytest

from coldsoak.errors import TripError
from coldsoak.rig.document import WaterTable
from coldsoak.rig.read import parse_trip
from coldsoak.rig.resolve import Record, Section
from coldsoak.rig.water import Pipe, Tank, Water, resolve_water

from .example import SMALLEST


def resolved(keys: str, sheltered: bool = True) -> tuple[Water, Record]:
    record = Record(parse_trip(SMALLEST).source, {})
    table = WaterTable.model_validate(tomllib.loads(keys))
    section = Section(record, WaterTable, table, ("water", 0))
    return resolve_water(section, "tank", sheltered), record


def water(keys: str, **rest: Any) -> Water:
    return resolved(keys, **rest)[0]


def test_a_tank_is_a_flat_box_unless_its_surface_is_given() -> None:
    # a box of 40 x 20 x 10 cm; the assumed surface is told, and read, to 0.1 cm2
    found, record = resolved('volume = "8 L"')
    assert found.held_in == Tank(pytest.approx(0.008), pytest.approx(0.28, abs=1e-5))
    assert (found.insulation, found.inside, found.ice) == (0.0, True, 0.5)
    assert {a.key.rpartition(".")[2] for a in record.assumptions} >= {"area", "place", "ice"}
    given = water('volume = "8 L"\narea = "0.5 m2"\ninsulation = "0.4 m2K/W"')
    assert given.held_in == Tank(pytest.approx(0.008), 0.5)
    assert given.insulation == 0.4


def test_a_pipe_freezes_alike_whatever_its_length() -> None:
    found, record = resolved('diameter = "12 mm"\nlength = "4 m"\nice = "20 %"')
    assert found.held_in == Pipe(pytest.approx(0.012))
    assert found.ice == pytest.approx(0.2)
    assert any("length" in note for note in record.notes())


def test_it_may_stand_outside() -> None:
    assert not water('diameter = "12 mm"\nplace = "outside"', sheltered=False).inside


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ("", "neither volume nor diameter"),
        ('length = "2 m"', "found length"),
        ('volume = "8 L"\ndiameter = "12 mm"', "volume and diameter"),
        ('volume = "8 L"\nlength = "2 m"', "volume and length"),
        ('diameter = "12 mm"\narea = "1 m2"', "area and diameter"),
        ('volume = "8 L"\narea = "0.1 m2"', "so little surface"),
        ('volume = "8 L"\nice = "0 %"', "more than 0 %"),
        ('volume = "unknown"', "too much depends on it"),
    ],
)
def test_water_that_cannot_be_is_refused(keys: str, words: str) -> None:
    with pytest.raises(TripError, match=words):
        resolved(keys)


def test_it_cannot_stand_in_a_shelter_that_is_not_there() -> None:
    with pytest.raises(TripError, match="no \\[shelter\\]"):
        resolved('volume = "8 L"', sheltered=False)
