"""Vents, breath, water and the limits of the air inside, as the trip file gives them."""

import pytest

from coldsoak.rig.coldface import coldest, coldness, face
from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import People, Shelter

from .example import SMALLEST, refusal

# sums of a few products; nothing here is meant closer than a double's last digits
EXACT = {"rel": 1e-9}
ROOM = """
[shelter]
floor = { area = "9 m2", U = "1 W/m2K" }
surfaces = [{ area = "40 m2", U = "0.5 W/m2K" }]
"""
STOVE = '[[appliance]]\nkind = "stove"\ninput = "2 kW"\nuse = "always"\n'
VENTS = """
openings = [
    { area = "30 cm2", height = "0.1 m", count = 2 },
    { area = "60 cm2", height = "1.9 m" },
]
"""


def shelter(keys: str = "") -> Shelter:
    found = parse_trip(SMALLEST + ROOM + keys).shelter
    assert found is not None
    return found


def people(keys: str = "", more: str = "") -> People:
    found = parse_trip(SMALLEST + more + ROOM + "[people]\ncount = 2\n" + keys).people
    assert found is not None
    return found


def assumed(text: str) -> dict[str, str]:
    """Every assumption of a trip by its key."""
    return {each.key: each.source for each in parse_trip(text).assumptions}


def test_openings_are_counted_and_keep_their_height() -> None:
    found = shelter(VENTS)
    assert [(o.area, o.height) for o in found.openings] == [
        (pytest.approx(60e-4), pytest.approx(0.1)),
        (pytest.approx(60e-4), pytest.approx(1.9)),
    ]


def test_listed_openings_leak_and_replace_the_vents_by_floor_area() -> None:
    found = shelter(VENTS)
    assert found.gap_area == 0.0
    assert found.leakage_area == pytest.approx(0.6 * 120e-4, **EXACT)
    assert shelter().gap_area == shelter().leakage_area > 0.0


def test_a_given_leakage_is_that_of_the_gaps_beside_the_openings() -> None:
    found = shelter(VENTS + 'leakage = "50 cm2"\n')
    assert found.gap_area == pytest.approx(50e-4, **EXACT)
    assert found.leakage_area == pytest.approx(50e-4 + 0.6 * 120e-4, **EXACT)


def test_an_opening_above_the_room_is_refused() -> None:
    error = refusal('height = "1.9 m"', 'height = "2.4 m"', SMALLEST + ROOM + VENTS)
    assert error.key is not None
    assert error.key.startswith("shelter.openings")
    assert "2400 mm" in str(error)


@pytest.mark.parametrize("area", ['"0 cm2"', '"-3 cm2"', "60"])
def test_an_opening_of_no_area_is_refused(area: str) -> None:
    refusal('area = "60 cm2"', f"area = {area}", SMALLEST + ROOM + VENTS)


def test_the_coldest_windows_are_those_that_are_judged() -> None:
    found = shelter(
        'windows = [{ area = "1 m2", U = "2.8 W/m2K" }, { area = "0.5 m2", U = "5.9 W/m2K" }, '
        '{ area = "0.2 m2", U = "5.9 W/m2K" }]\n'
    )
    assert found.window is not None
    assert found.window.area == pytest.approx(0.7)
    assert found.window.outside_resistance == pytest.approx(max(0.04, 1 / 5.9 - 0.13))
    assert shelter().window is None


def test_a_curtain_makes_a_window_colder() -> None:
    bare = shelter('windows = [{ area = "1 m2", U = "2.8 W/m2K" }]\n').window
    drawn = shelter(
        'windows = [{ area = "1 m2", U = "2.8 W/m2K", inside_resistance = "0.4 m2K/W" }]\n'
    ).window
    assert bare is not None
    assert drawn is not None
    assert bare.inside_resistance == pytest.approx(0.13)
    assert coldness(drawn) > coldness(bare)


def test_a_wall_is_judged_where_the_air_hardly_moves() -> None:
    wall = shelter().wall
    assert wall.inside_resistance == pytest.approx(0.25)
    assert wall.outside_resistance == pytest.approx(1 / 0.5 - 0.13)
    assert "shelter.wall_resistance" in assumed(SMALLEST + ROOM)


def test_a_pane_of_films_only_keeps_its_outer_film() -> None:
    assert face(1.0, 12.0, 0.13).outside_resistance == 0.04
    assert coldest([]) is None


def test_people_breathe_and_give_off_water_as_is_published() -> None:
    found = people()
    assert found.co2_asleep * 3.6e6 == pytest.approx(11.0)
    assert found.co2_awake * 3.6e6 == pytest.approx(18.7)
    assert found.water_asleep * 3.6e6 == pytest.approx(40.0)
    assert found.water_awake * 3.6e6 == pytest.approx(67.0)


def test_nobody_cooks_without_a_stove() -> None:
    assert people().cooking_water == 0.0
    assert people(more=STOVE).cooking_water == pytest.approx(0.25)
    assert people('cooking_water = "1 lb"\n').cooking_water == pytest.approx(0.45359237)


def test_every_number_of_the_air_is_told_with_its_source() -> None:
    told = assumed(SMALLEST + STOVE + ROOM + "[people]\ncount = 2\n")
    for key in ("co2_awake", "co2_asleep", "water_awake", "water_asleep", "cooking_water"):
        assert told[f"people.{key}"]
    assert told["air.co2"]
    assert told["air.o2"]


def test_the_limits_are_those_of_the_standards_unless_the_trip_is_stricter() -> None:
    assert parse_trip(SMALLEST).air.co2 == pytest.approx(5e-3)
    assert parse_trip(SMALLEST).air.oxygen == pytest.approx(0.195)
    strict = parse_trip(SMALLEST + '[air]\nco2 = "2000 ppm"\no2 = "20 %"\n').air
    assert (strict.co2, strict.oxygen) == pytest.approx((2e-3, 0.2))


@pytest.mark.parametrize(("key", "value"), [("co2", "9000 ppm"), ("o2", "18 %"), ("co2", "0.6 %")])
def test_a_looser_limit_is_refused(key: str, value: str) -> None:
    text = SMALLEST + f'[air]\n{key} = "?"\n'
    assert "not looser" in str(refusal('"?"', f'"{value}"', text))


def test_an_unknown_breath_is_an_uncertain_input() -> None:
    trip = parse_trip(SMALLEST + ROOM + '[people]\ncount = 2\nco2_asleep = "unknown"\n')
    assert [each.key for each in trip.uncertain] == ["people.co2_asleep"]
