"""The battery of a trip file, through its resolver; the file itself does not take it yet."""

import json
import tomllib
from math import radians
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from coldsoak.errors import TripError
from coldsoak.rig.battery import kind_of_battery, resolve_battery, state_at_rest
from coldsoak.rig.catalogue import catalogue
from coldsoak.rig.document import BatteryTable
from coldsoak.rig.electric import Battery
from coldsoak.rig.read import parse_trip
from coldsoak.rig.resolve import Record, Section
from coldsoak.rig.trip import Place

from .example import SMALLEST

KINDS = ("flooded", "AGM", "gel", "LFP")
NORTH = Place(elevation=None, latitude=46.9, longitude=None)
EXACT = {"rel": 1e-12}
"""Products of two doubles."""


def resolved(
    keys: str, sheltered: bool = True, place: Place = NORTH, levels: Any = None
) -> tuple[Battery, Record]:
    """The battery of some keys, and what resolving it left behind."""
    source = parse_trip(SMALLEST).source
    record = Record(source, levels or {})
    table = BatteryTable.model_validate(tomllib.loads(keys))
    return resolve_battery(
        Section(record, BatteryTable, table, ("battery",)), place, sheltered
    ), record


def battery(keys: str, **rest: Any) -> Battery:
    return resolved(keys, **rest)[0]


def refusal(keys: str, **rest: Any) -> TripError:
    with pytest.raises(TripError) as caught:
        resolved(keys, **rest)
    return caught.value


def test_the_fewest_keys_are_kind_and_capacity() -> None:
    found, record = resolved('kind = "AGM"\ncapacity = "100 Ah"')
    assert found.energy == pytest.approx(1200 * 3600, **EXACT)
    assert (found.state, found.cut_out, found.reconnect) == (1.0, 0.0, 0.2)
    assert found.inside
    assert (found.loads, found.solar, found.alternator, found.shore) == ((), None, (), ())
    told = {each.key for each in record.assumptions}
    assert {"battery.state", "battery.place", "battery.capacity in the cold"} <= told
    assert all(each.source for each in record.assumptions)


def test_capacity_may_be_given_as_energy() -> None:
    assert battery('kind = "LFP"\nenergy = "1280 Wh"').energy == pytest.approx(
        battery('kind = "LFP"\ncapacity = "100 Ah"').energy, **EXACT
    )


def test_the_voltage_is_that_of_the_kind_unless_it_is_given() -> None:
    assert battery('kind = "gel"\ncapacity = "50 Ah"\nvoltage = "24 V"').energy == pytest.approx(
        24 * 50 * 3600, **EXACT
    )


@pytest.mark.parametrize(
    ("volts", "state"), [("12.65 V", 1.0), ("12.24 V", 0.5), ("12.06 V", 0.25), ("13 V", 1.0)]
)
def test_a_flooded_battery_tells_its_state_by_its_voltage_at_rest(volts: str, state: float) -> None:
    found, record = resolved(f'kind = "flooded"\ncapacity = "100 Ah"\nstate = "{volts}"')
    assert found.state == state
    assert "battery.state.state at this voltage" in {each.key for each in record.assumptions}


def test_a_battery_of_24_volts_is_two_of_12() -> None:
    keys = 'kind = "flooded"\ncapacity = "100 Ah"\nvoltage = "24 V"\nstate = "24.48 V"'
    assert battery(keys).state == pytest.approx(0.5)


def test_a_cut_out_under_load_is_the_end_of_what_it_can_give() -> None:
    found, record = resolved('kind = "flooded"\ncapacity = "100 Ah"\ncut_out = "10.5 V"')
    assert found.cut_out == 0.0
    assert any("end of what it can give" in note for note in record.remarks)


@given(st.floats(5, 20), st.floats(0, 5))
def test_more_volts_never_mean_less_charge(volts: float, more: float) -> None:
    for kind in KINDS:
        rest = catalogue("batteries")[kind].values["rest"].value
        assert 0.0 <= state_at_rest(volts, rest) <= state_at_rest(volts + more, rest) <= 1.0


def test_an_uncertain_capacity_or_state_is_told() -> None:
    keys = 'kind = "AGM"\ncapacity = "70 Ah .. 100 Ah"\nstate = "unknown"'
    found, record = resolved(keys)
    assert found.energy == pytest.approx(85 * 12 * 3600, **EXACT)
    assert [each.key for each in record.uncertain] == ["battery.capacity", "battery.state"]
    low = battery(keys, levels={"battery.state": "low"})
    assert low.state == pytest.approx(0.5)


def test_loads_take_power_or_current() -> None:
    found = battery(
        'kind = "AGM"\ncapacity = "100 Ah"\n'
        'loads = [{ name = "lights", power = "18 W", use = [{ from = "17:00", to = "22:30" }] },'
        ' { current = "0.5 A" }]'
    )
    lights, other = found.loads
    assert (lights.name, lights.power, lights.use) == ("lights", 18.0, ((61200.0, 81000.0),))
    assert (other.name, other.power, other.use) == ("load 2", pytest.approx(6.0), "always")


def test_chargers_have_windows() -> None:
    found = battery(
        'kind = "AGM"\ncapacity = "100 Ah"\n'
        'alternator = [{ from = "08:00", to = "09:00", current = "25 A" }]\n'
        'shore = [{ from = "23:00", to = "05:00", power = "400 W" }]'
    )
    assert (found.alternator[0].window, found.alternator[0].power) == ((28800.0, 32400.0), 300.0)
    assert (found.shore[0].window, found.shore[0].power) == ((82800.0, 18000.0), 400.0)


@pytest.mark.parametrize(("latitude", "azimuth"), [(46.9, 180.0), (-43.0, 0.0), (None, 180.0)])
def test_panels_face_the_equator(latitude: float | None, azimuth: float) -> None:
    place = Place(None, latitude, None)
    keys = 'kind = "AGM"\ncapacity = "100 Ah"\nsolar = { power = "100 W", tilt = "60 deg" }'
    found = battery(keys, place=place).solar
    assert found is not None
    assert (found.power, found.tilt) == (100.0, pytest.approx(radians(60)))
    assert found.azimuth == pytest.approx(radians(azimuth))


def test_without_a_shelter_it_stands_outside() -> None:
    assert not battery('kind = "AGM"\ncapacity = "100 Ah"', sheltered=False).inside


CAPACITY = 'kind = "AGM"\ncapacity = "100 Ah"\n'


@pytest.mark.parametrize(
    ("keys", "key", "words"),
    [
        ('kind = "AGM"', "battery", "neither capacity nor energy"),
        (CAPACITY + 'energy = "1 kWh"', "battery.energy", "give one of them"),
        (CAPACITY + 'loads = [{ name = "fan" }]', "battery.loads[1]", "neither power nor current"),
        (
            CAPACITY + 'loads = [{ power = "5 W", current = "1 A" }]',
            "battery.loads[1].current",
            "give one of them",
        ),
        (CAPACITY + 'cut_out = "50 %"\nreconnect = "40 %"', "battery.reconnect", "come back"),
        (CAPACITY + 'cut_out = "100 %"', "battery.cut_out", "come back"),
        ('kind = "AGM"\ncapacity = "unknown"', "battery.capacity", "too much depends on it"),
    ],
)
def test_a_battery_that_cannot_be_is_refused(keys: str, key: str, words: str) -> None:
    error = refusal(keys)
    assert error.key == key
    assert words in str(error)


def test_it_cannot_stand_in_a_shelter_that_is_not_there() -> None:
    assert refusal(CAPACITY + 'place = "inside"', sheltered=False).key == "battery.place"


@pytest.mark.parametrize(
    "keys",
    [
        'kind = "nickel"\ncapacity = "100 Ah"',
        'kind = "AGM"\ncapacity = 100',
        'kind = "AGM"\ncapacity = "100 A"',
        'kind = "AGM"\ncapacity = "100 Ah"\nstate = "12 A"',
        'kind = "AGM"\ncapacity = "100 Ah"\nstate = "120 %"',
        'kind = "AGM"\ncapacity = "100 Ah"\nstate = "999 V"',
        'kind = "AGM"\ncapacity = "100 Ah"\nvolts = "12 V"',
        'kind = "AGM"\ncapacity = "100 Ah"\nalternator = [{ from = "08:00", to = "08:00" }]',
    ],
)
def test_damaged_keys_break_the_schema(keys: str) -> None:
    with pytest.raises(ValidationError):
        BatteryTable.model_validate(tomllib.loads(keys))


def test_every_key_says_what_it_means_and_its_units() -> None:
    schema = BatteryTable.model_json_schema(by_alias=True)
    tables = [schema, *schema["$defs"].values()]
    for name, entry in ((n, e) for table in tables for n, e in table["properties"].items()):
        assert len(entry["description"]) > 5, name
    assert "Ah" in json.dumps(schema)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_sound(kind: str) -> None:
    found = kind_of_battery(kind)
    temperatures, shares = zip(*found.capacity, strict=True)
    assert list(temperatures) == sorted(temperatures)
    assert list(shares) == sorted(shares)
    assert shares[-1] == 1.0
    assert found.efficiency[-1][0] == 1.0
    assert all(0.3 < part < 1.0 for _, part in found.efficiency)
    assert all(source.source for source in catalogue("batteries")[kind].values.values())
    assert (found.charge_floor > 0) == (kind == "LFP")


@pytest.mark.parametrize("kind", ["flooded", "AGM", "gel"])
def test_a_flat_lead_acid_battery_freezes_where_a_full_one_does_not(kind: str) -> None:
    states, points = zip(*kind_of_battery(kind).freezes, strict=True)
    assert states == (0.0, 0.25, 0.5, 0.75, 1.0)
    assert list(points) == sorted(points, reverse=True)
    assert points[0] == pytest.approx(262.45)
