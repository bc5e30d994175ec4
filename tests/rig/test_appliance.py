"""Appliances: when they burn, and what a thermostat needs."""

import pytest

from coldsoak.rig.catalogue import catalogue
from coldsoak.rig.read import parse_trip
from coldsoak.rig.trip import Trip

from .example import GOOD, SMALLEST, trip_with

ROOM = """\
[shelter]
floor = { area = "9 m2", U = "1 W/m2K" }
surfaces = [{ area = "40 m2", U = "1 W/m2K" }]
"""


def burning(keys: str, room: str = "") -> Trip:
    return parse_trip(f'{SMALLEST}[[appliance]]\ninput = "5 kW"\n{keys}\n{room}')


@pytest.mark.parametrize("kind", catalogue("burners"))
def test_every_kind_needs_no_more_than_its_input(kind: str) -> None:
    appliance = burning(f'kind = "{kind}"', ROOM).appliances[0]
    assert appliance.input == 5000.0
    assert 0.0 <= appliance.room_share <= 0.92  # net over gross heat of propane


@pytest.mark.parametrize("kind", catalogue("burners"))
def test_an_unknown_input_is_a_range_of_the_kind(kind: str) -> None:
    trip = parse_trip(f'{SMALLEST}[[appliance]]\nkind = "{kind}"\ninput = "unknown"\n')
    assert trip.uncertain[0].key == "appliance[1].input"


def test_a_thermostat_without_a_shelter_burns_all_the_time_and_says_so() -> None:
    trip = burning('kind = "furnace"\nuse = "thermostat"')
    assert trip.appliances[0].use == "always"
    assert any("no [shelter]" in note for note in trip.notes)


def test_a_thermostat_in_a_shelter_stays_one() -> None:
    trip = burning('kind = "furnace"', ROOM)
    assert trip.appliances[0].use == "thermostat"
    assert trip.appliances[0].set_point == pytest.approx(291.15)
    assert trip.notes == ()


def test_a_thermostat_of_its_own_burns_all_the_time_and_says_so() -> None:
    trip = burning('kind = "water heater"\nuse = "thermostat"', ROOM)
    assert trip.appliances[0].use == "always"
    assert any("not modelled" in note for note in trip.notes)


def test_settings_without_a_thermostat_are_noted_as_not_used() -> None:
    trip = burning('kind = "stove"\nuse = "always"\nset = "20 degC"\ntries = 2', ROOM)
    assert any("set, tries not used" in note for note in trip.notes)
    assert not any(a.key.endswith((".purge", ".tries")) for a in trip.assumptions)


def test_windows_keep_their_order_and_may_cross_midnight() -> None:
    trip = trip_with('{ from = "18:00", to = "18:40" }', '{ from = "23:30", to = "00:15" }', GOOD)
    assert trip.appliances[1].use == ((25200.0, 26700.0), (84600.0, 900.0))


def test_a_window_may_be_a_toml_time_and_end_at_midnight() -> None:
    trip = trip_with('{ from = "18:00", to = "18:40" }', '{ from = 18:00:00, to = "24:00" }', GOOD)
    assert trip.appliances[1].use[1] == (64800.0, 86400.0)


def test_a_setback_has_its_own_set_point() -> None:
    (setback,) = parse_trip(GOOD).appliances[0].setbacks
    assert (setback.start, setback.end) == (79200.0, 21600.0)
    assert setback.set_point == pytest.approx(285.15)


def test_the_hysteresis_is_a_difference_of_temperatures() -> None:
    assert parse_trip(GOOD).appliances[0].differential == pytest.approx(2 / 1.8)
