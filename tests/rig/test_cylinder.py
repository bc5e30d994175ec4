"""A cylinder's body and place come from the catalogue, its own numbers, or both."""

import pytest

from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import Cylinder

from .example import SMALLEST, refusal, trip_with

OWN = SMALLEST.replace('size = "20 lb"', 'water_capacity = "27.2 L"\ndiameter = "296 mm"')


def cylinder(extra: str, text: str = SMALLEST) -> Cylinder:
    """The cylinder of the smallest trip with keys added."""
    return trip_with("[[cylinder]]", f"[[cylinder]]\n{extra}", text).cylinders[0]


def test_a_stamped_tare_overrides_that_of_the_catalogue() -> None:
    given = cylinder('tare = "16.8 lb"')
    assert given.tare == pytest.approx(16.8 * 0.45359237)
    assert given.water_capacity == cylinder("").water_capacity


def test_a_size_in_another_material_is_its_own_entry() -> None:
    aluminium = cylinder('material = "aluminium"')
    assert aluminium.size == "20 lb aluminium"
    assert aluminium.thickness > cylinder("").thickness
    assert aluminium.tare < cylinder("").tare


def test_a_material_that_the_catalogue_lacks_needs_its_own_wall_and_tare() -> None:
    text = SMALLEST.replace("20 lb", "100 lb")
    error = refusal('contents = "15 lb"', 'contents = "15 lb"\nmaterial = "aluminium"', text)
    assert "give its wall and tare" in str(error)
    own = cylinder('material = "aluminium"\nwall = "4 mm"\ntare = "22 kg"', text)
    assert own.material == "aluminium"


def test_water_capacity_and_diameter_are_enough_for_a_body() -> None:
    own = cylinder("", OWN)
    assert own.material == "steel"
    assert own.thickness == pytest.approx(0.002)
    # 30 % over the computed body of 7.3 kg
    assert own.tare == pytest.approx(1.3 * 7.3, rel=0.01)


def test_a_cylinder_without_size_and_diameter_is_refused() -> None:
    assert "diameter is missing" in str(
        refusal('size = "20 lb"', 'water_capacity = "21 L"', SMALLEST)
    )


@pytest.mark.parametrize(
    ("place", "wind_factor", "sky_view", "sun_view", "cover"),
    [
        ("open", 0.5, 0.5, 1.0, 0.0),
        ("covered", 0.2, 0.0, 0.0, 0.10),
        ("locker", 0.0, 0.0, 0.0, 0.17),
    ],
)
def test_the_place_decides_wind_sky_sun_and_cover(
    place: str, wind_factor: float, sky_view: float, sun_view: float, cover: float
) -> None:
    given = cylinder(f'place = "{place}"')
    assert (given.wind_factor, given.sky_view) == pytest.approx((wind_factor, sky_view))
    assert (given.sun_view, given.cover) == pytest.approx((sun_view, cover))


def test_a_blanket_adds_to_the_cover_of_the_place() -> None:
    assert cylinder('place = "locker"\ninsulation = "0.3 m2K/W"').cover == pytest.approx(0.47)


def test_a_heater_runs_always_or_below_a_temperature() -> None:
    assert cylinder('heater = { power = "60 W" }').heater_on == "always"
    below = cylinder('heater = { power = "60 W", on = "below 41 degF" }')
    assert below.heater == 60.0
    assert below.heater_on == pytest.approx(278.15)


def test_a_heater_below_an_uncertain_temperature_is_an_uncertain_input() -> None:
    text = 'heater = { power = "60 W", on = "below 0 degC .. 10 degC" }'
    trip = trip_with("[[cylinder]]", f"[[cylinder]]\n{text}", SMALLEST)
    assert trip.uncertain[0].key == "cylinder[1].heater.on"
    assert trip.cylinders[0].heater_on == pytest.approx(278.15)


def test_a_tank_lies_and_a_cylinder_stands() -> None:
    assert cylinder("").upright
    assert not parse_trip(SMALLEST.replace("20 lb", "250 gal")).cylinders[0].upright
    assert not cylinder('orientation = "horizontal"').upright


def test_gauge_and_scale_give_the_same_contents() -> None:
    tare = cylinder("").tare
    gross = f'gross = "{tare + 6.0:.9f} kg"'
    weighed = trip_with('contents = "15 lb"', gross, SMALLEST).cylinders[0]
    assert weighed.contents == pytest.approx(6.0, abs=1e-8)


def test_an_empty_cylinder_is_accepted() -> None:
    assert trip_with('"15 lb"', '"0 lb"', SMALLEST).cylinders[0].contents == 0.0
