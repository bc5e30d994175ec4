"""The shelter's numbers against the arithmetic of ISO 6946."""

import pytest

from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import Shelter

from .example import GOOD, SMALLEST, refusal, trip_with

# sums of a few products; nothing here is meant closer than a double's last digits
EXACT = {"rel": 1e-9}


def shelter(text: str) -> Shelter:
    found = parse_trip(text).shelter
    assert found is not None
    return found


def room(keys: str, floor: str = 'area = "9 m2", U = "1 W/m2K"') -> Shelter:
    """A small room with keys added."""
    return shelter(
        f"{SMALLEST}[shelter]\nfloor = {{ {floor} }}\n"
        f'surfaces = [{{ area = "40 m2", U = "0.5 W/m2K" }}]\n{keys}\n'
    )


def test_surfaces_windows_and_films_add_up() -> None:
    roof = 10 / (0.10 + 0.04 + 0.050 / 0.0375)
    floor = 10 / (0.17 + 0.04 + 0.018 / 0.115 + 0.040 / 0.03)
    found = shelter(GOOD)
    assert found.ua_air == pytest.approx(26 * 0.9 + 1.5 * 2.8 + roof, **EXACT)
    assert found.ua_ground == pytest.approx(floor, **EXACT)
    assert found.ground_temperature == pytest.approx(272.15)
    assert found.sun_aperture == pytest.approx(0.9, **EXACT)


def test_a_floor_above_the_air_loses_to_the_air() -> None:
    found = room("")
    assert found.ua_air == pytest.approx(9 + 20, **EXACT)
    assert found.ua_ground == 0.0
    assert found.ground_temperature is None


@pytest.mark.parametrize(
    ("floor_area", "opening"), [("5 m2", 85), ("9 m2", 115), ("14 m2", 170), ("40 m2", 230)]
)
def test_the_leakage_of_a_shelter_is_that_of_its_vents(floor_area: str, opening: float) -> None:
    # rounded to the square centimetre, as it is told
    found = room("", f'area = "{floor_area}", U = "1 W/m2K"')
    assert found.leakage_area * 1e4 == pytest.approx(0.6 * opening, abs=0.51)


def test_heat_capacity_follows_the_floor_area_and_how_it_is_built() -> None:
    light, heavy = room('mass = "light"'), room('mass = "heavy"')
    assert light.light_capacity == heavy.light_capacity == pytest.approx(90e3)
    assert light.heavy_capacity == pytest.approx(450e3)
    assert heavy.heavy_capacity == pytest.approx(1485e3)


def test_given_heat_capacities_stand() -> None:
    found = room('light_capacity = "60 kJ/K"\nheavy_capacity = "700 kJ/K"')
    assert (found.light_capacity, found.heavy_capacity) == pytest.approx((60e3, 700e3))


def test_the_nodes_are_coupled_over_all_inside_surfaces() -> None:
    assert room("").coupling == pytest.approx(3.45 * 49, **EXACT)


def test_volume_is_floor_area_times_height_unless_it_is_given() -> None:
    assert room('height = "2.1 m"').volume == pytest.approx(18.9)
    assert room('volume = "15 m3"').volume == pytest.approx(15.0)


def test_a_room_without_size_is_refused_for_its_volume() -> None:
    error = refusal('area = "10 m2"', 'area = "1e-300 m2"', GOOD)
    assert error.key == "shelter.volume"
    assert "comes out as 0.00 m3" in str(error)


def test_an_unknown_heat_transfer_is_an_uncertain_input() -> None:
    trip = trip_with('U = "0.9 W/m2K"', 'U = "unknown"', GOOD)
    assert "shelter.surfaces.walls.U" in [each.key for each in trip.uncertain]


def test_people_without_a_shelter_are_noted_as_not_used() -> None:
    trip = parse_trip(SMALLEST + "[people]\ncount = 2\n")
    assert any("[people] is not used" in note for note in trip.notes)


def test_a_ground_temperature_without_a_floor_on_the_ground_is_noted() -> None:
    trip = trip_with('to = "ground"', 'to = "air"', GOOD)
    assert any("ground_temperature is not used" in note for note in trip.notes)
