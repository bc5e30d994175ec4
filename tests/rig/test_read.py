"""A trip file becomes a trip: values as given, defaults told, uncertain inputs settled."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from coldsoak.rig.document import TripDocument
from coldsoak.rig.read import parse_trip, read_trip, settle
from coldsoak.rig.trip import ConstantWeather, DailyWeather

from .example import GOOD, SMALLEST, changed, refusal, trip_with

# conversions round in the last digits of a double; nothing here is meant closer than that
EXACT = {"rel": 1e-12}


def test_the_trip_is_what_the_file_says() -> None:
    trip = parse_trip(GOOD)
    assert trip.name == "Invented ridge hut, three nights"
    assert trip.start == datetime(2026, 1, 16, 16)
    assert trip.length == pytest.approx(64 * 3600, **EXACT)
    assert (trip.place.elevation, trip.place.latitude, trip.place.longitude) == (1450, 46.9, -113.4)
    assert trip.fuel.typical == trip.fuel.worst == pytest.approx((0, 0.6, 0, 0, 0.4))
    assert [c.name for c in trip.cylinders] == ["A", "B", "C"]
    assert [c.role for c in trip.cylinders] == ["supply", "reserve", "spare"]
    assert isinstance(trip.weather, DailyWeather)
    assert trip.weather.lows[1] == pytest.approx(244.15)


def test_a_trip_of_one_cylinder_and_inline_weather_is_enough() -> None:
    trip = parse_trip(SMALLEST)
    assert trip.appliances == ()
    assert trip.shelter is None
    assert trip.people is None
    assert trip.weather == ConstantWeather(pytest.approx(253.15), 0.0, 0.75, "clear")
    assert trip.cylinders[0].start_temperature is None


def test_the_start_may_have_an_offset_from_utc() -> None:
    trip = trip_with("2026-01-16T16:00:00", "2026-01-16T16:00:00-07:00")
    assert trip.start.utcoffset() == timedelta(hours=-7)


def test_a_weather_file_stands_beside_the_trip_file(tmp_path: Path) -> None:
    path = tmp_path / "trip.toml"
    path.write_text(changed('{ temperature = "-20 degC" }', '"ridge.csv"', SMALLEST))
    with pytest.raises(Exception, match="there is no file"):
        read_trip(path)
    (tmp_path / "ridge.csv").touch()
    trip = read_trip(path)
    assert trip.weather == tmp_path / "ridge.csv"
    assert trip.name == tmp_path.name


@pytest.mark.parametrize("name", ["", "\\u0000", "../" * 300, "."])
def test_a_weather_file_that_cannot_be_is_refused(name: str) -> None:
    error = refusal('{ temperature = "-20 degC" }', f'"{name}"', SMALLEST)
    assert error.key == "trip.weather"


def keys_left_out(table: str) -> set[str]:
    """The keys that each entry of a table leaves out."""
    document = parse_trip(GOOD).source.document
    entry = getattr(document, table)
    entries = entry if isinstance(entry, list) else [entry]
    return {
        f"{table}.{each.name}.{key}" if isinstance(entry, list) else f"{table}.{key}"
        for each in entries
        for key in type(each).model_fields
        if getattr(each, key) is None
    }


NO_DEFAULT = {"contents", "gross", "fill", "heater", "size", "connector"}
"""Keys without a default: the three statements of contents, and hardware that is not there."""

NO_THERMOSTAT = {"set", "setback", "differential", "minimum_on", "minimum_off", "purge", "tries"}


@pytest.mark.parametrize("table", ["cylinder", "supply", "people"])
def test_every_key_left_out_is_told_as_an_assumption(table: str) -> None:
    told = {each.key for each in parse_trip(GOOD).assumptions}
    missing = {key for key in keys_left_out(table) if key.rsplit(".", 1)[1] not in NO_DEFAULT}
    assert missing <= told


def test_every_setting_of_a_thermostat_left_out_is_told() -> None:
    text = SMALLEST + '[[appliance]]\nkind = "furnace"\ninput = "5 kW"\nuse = "thermostat"\n'
    text += '[shelter]\nfloor = { area = "9 m2", U = "1 W/m2K" }\n'
    text += 'surfaces = [{ area = "40 m2", U = "1 W/m2K" }]\n'
    told = {each.key: each for each in parse_trip(text).assumptions}
    keys = (NO_THERMOSTAT - {"setback"}) | {"retry_wait", "vented", "room_share"}
    assert {f"appliance[1].{key}" for key in keys} <= set(told)
    assert told["appliance[1].set"].value == "18 degC"
    for key in ("leakage", "mass", "height", "volume", "wind_factor", "temperature", "coupling"):
        assert f"shelter.{key}" in told
    assert all(each.source for each in told.values())


def test_a_value_that_is_given_is_no_assumption() -> None:
    told = {each.key for each in parse_trip(GOOD).assumptions}
    assert not told & {"trip.length", "cylinder.C.tare", "supply.minimum_inlet", "people.heat"}


def test_an_uncertain_input_is_taken_at_its_middle_and_settles_at_its_ends() -> None:
    trip = parse_trip(GOOD)
    assert [each.key for each in trip.uncertain] == ["cylinder.B.gross", "appliance.stove.input"]
    middle = trip.cylinders[1].contents
    low = settle(trip, {"cylinder.B.gross": "low"}).cylinders[1].contents
    high = settle(trip, {"cylinder.B.gross": "high"}).cylinders[1].contents
    assert middle == pytest.approx((low + high) / 2, **EXACT)
    assert high - low == pytest.approx(6 * 0.45359237, **EXACT)
    assert settle(trip, {}) == trip


def test_settling_one_input_leaves_the_others_at_their_middle() -> None:
    trip = parse_trip(GOOD)
    settled = settle(trip, {"cylinder.B.gross": "low"})
    assert settled.appliances == trip.appliances
    assert settled.uncertain == trip.uncertain


def test_settling_what_is_not_uncertain_is_a_programming_error() -> None:
    with pytest.raises(LookupError, match=r"cylinder\.A\.contents"):
        settle(parse_trip(GOOD), {"cylinder.A.contents": "low"})


def test_unknown_contents_are_anything_from_nothing_to_the_limit() -> None:
    trip = trip_with('"15 lb"', '"unknown"', SMALLEST)
    (key,) = [each.key for each in trip.uncertain]
    assert settle(trip, {key: "low"}).cylinders[0].contents == 0.0
    assert settle(trip, {key: "high"}).cylinders[0].contents == trip.cylinders[0].limit


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [("10 lb .. 14 lb", 10, 14), ("14 lb..10 lb", 10, 14), ("10 .. 14 lb", 10, 14)],
)
def test_a_range_may_be_written_in_any_order(text: str, low: float, high: float) -> None:
    trip = trip_with('"15 lb"', f'"{text}"', SMALLEST)
    ends = [
        settle(trip, {"cylinder[1].contents": level}).cylinders[0].contents / 0.45359237
        for level in ("low", "high")
    ]
    assert ends == pytest.approx([low, high])


@pytest.mark.parametrize(
    "text", ["10 lb ..", "..", "1 lb .. 2 lb .. 3 lb", "1 lb .. 2 m", "1 .. 2"]
)
def test_half_a_range_is_refused(text: str) -> None:
    assert refusal('"15 lb"', f'"{text}"', SMALLEST).key == "cylinder[1].contents"


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("temperature", '"-20 degC"'),
        ("wind", '"1 m/s"'),
        ("humidity", '"70 %"'),
        ("sky", '"40 %"'),
    ],
)
def test_the_weather_may_be_unknown_but_not_the_temperature(key: str, value: str) -> None:
    text = SMALLEST.replace(
        '{ temperature = "-20 degC" }',
        '{ temperature = "-20 degC", wind = "1 m/s", humidity = "70 %", sky = "40 %" }',
    )
    old, new = f"{key} = {value}", f'{key} = "unknown"'
    if key == "temperature":
        assert "give a value or a range" in str(refusal(old, new, text))
    else:
        assert trip_with(old, new, text).uncertain[0].key == f"trip.weather.{key}"


def test_a_cylinder_without_a_name_gets_a_letter_and_an_appliance_its_kind() -> None:
    text = SMALLEST + SMALLEST[SMALLEST.index("[[cylinder]]") :]
    text += '[[appliance]]\nkind = "stove"\ninput = "2 kW"\nuse = "always"\n' * 2
    trip = parse_trip(text)
    assert [c.name for c in trip.cylinders] == ["A", "B"]
    assert [a.name for a in trip.appliances] == ["stove", "stove 2"]


def test_keys_without_effect_are_named_in_one_note() -> None:
    (note,) = parse_trip(GOOD).notes
    assert note.startswith("Given, but not used by this version:")
    for key in ("lines in the plan", "appliance.furnace.electric"):
        assert key in note


def test_the_document_is_kept_for_those_who_settle_again() -> None:
    assert isinstance(parse_trip(GOOD).source.document, TripDocument)
