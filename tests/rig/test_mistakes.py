"""Every mistake is one message: file, line, key, what was found, what is allowed, the near word."""

import pytest

from coldsoak.rig.mistakes import known_keys
from coldsoak.rig.read import parse_trip

from .example import GOOD, SMALLEST, changed, line_of, refusal

MISTAKES = [
    # old, new, key, words of the message
    ('size = "20 lb"', 'sise = "20 lb"', "cylinder.A.sise", ["unknown key", "did you mean size?"]),
    ('length = "64 h"', 'lenght = "64 h"', "trip.lenght", ["did you mean length?"]),
    ("weather =", "wether =", "trip.wether", ["did you mean weather?"]),
    ("[people]", "[peple]", "peple", ["did you mean people?"]),
    ("elevation =", "elevaton =", "trip.place.elevaton", ["did you mean elevation?"]),
    ('power = "60 W"', 'pwer = "60 W"', "cylinder.B.heater.pwer", ["did you mean power?"]),
    ('lows = ["-26', 'lovs = ["-26', "trip.weather.lovs", ["did you mean lows?"]),
    ('"18.5 lb"', "18.5", "cylinder.A.contents", ["bare number 18.5", "units: kg, g, lb, oz"]),
    ('"64 h"', "64", "trip.length", ["bare number 64", '"64 h"']),
    ('"64 h"', '"64 kg"', "trip.length", ["a mass, where time is needed"]),
    ('"1450 m"', "true", "trip.place.elevation", ["found true", '"1450 m"']),
    ('"1450 m"', "[]", "trip.place.elevation", ["found a list"]),
    ('"-29 degC"', '"-99 degC"', "trip.weather.lows[2]", ["at least -60 degC", "fuel data"]),
    ('"-29 degC"', '"-5 degC"', "trip.weather.lows[2]", ["above the high"]),
    (', "-8 degC"', "", "trip.weather", ["4 lows and 3 highs"]),
    ('sky = "clear"', 'sky = "cloudy"', "trip.weather.sky", ['"overcast"', "share"]),
    ("46.9", '"46.9"', "trip.place.latitude", ["a number without quotation marks"]),
    ("46.9", "146.9", "trip.place.latitude", ["less than or equal to 90"]),
    ("2026-01-16T16:00:00", '"16 Jan"', "trip.start", ["2026-01-16T16:00:00"]),
    ("2026-01-16T16:00:00", "2026-01-16", "trip.start", ["a date and a local time"]),
    ("2026-01-16T16:00:00", "0026-01-16T16:00:00", "trip.start", ["between 1900 and 2200"]),
    ("propane = 0.6", "propan = 0.6", "fuel.blend.propan", ["did you mean propane?"]),
    ("propane = 0.6", "propane = 0.5", "fuel.blend", ["add up to 0.9", "must add up to 1"]),
    ("propane = 0.6", "propane = nan", "fuel.blend.propane", ["found nan"]),
    ("propane = 0.6", 'propane = "0.6"', "fuel.blend.propane", ["without quotation marks"]),
    ("{ propane = 0.6, n-butane = 0.4 }", '"HD-6"', "fuel.blend", ['did you mean "HD-5"?']),
    ('size = "20 lb"', 'size = "21 lb"', "cylinder.A.size", ['did you mean "20 lb"?']),
    ('role = "spare"', 'role = "spar"', "cylinder.C.role", ['did you mean "spare"?']),
    ('place = "locker"', 'place = "loker"', "cylinder.B.place", ['did you mean "locker"?']),
    ('name = "C"', 'name = "A"', "cylinder.A.name", ["twice"]),
    ('fill = "70 %"', "", "cylinder.C", ["nothing says how much"]),
    ('fill = "70 %"', 'fill = "70 %"\ncontents = "1 kg"', "cylinder.C.fill", ["give one of"]),
    ('diameter = "296 mm"', 'diameter = "500 mm"', "cylinder.C.diameter", ["alone hold more"]),
    ('diameter = "296 mm"', 'diameter = "50 mm"', "cylinder.C.diameter", ["long: check both"]),
    ('tare = "11 kg"', 'tare = "5 kg"', "cylinder.C.tare", ["weighs 7.3"]),
    ('material = "steel"', 'material = "iron"', "cylinder.C.material", ['"composite"']),
    ('on = "below 5 degC"', 'on = "5 degC"', "cylinder.B.heater.on", ['"below 5 degC"']),
    ("changeover =", "change over =", None, ["not valid TOML"]),
    ('"automatic changeover"', '"automatic"', "supply.arrangement", ['"automatic changeover"']),
    ("two-stage 11", "tow-stage 11", "supply.regulator", ["did you mean two-stage?"]),
    ("two-stage 11 inH2O", "two-stage 11", "supply.regulator", ["without a unit"]),
    ('"5 psi"', '"5 psia"', "supply.minimum_inlet", ["gauge pressure is needed"]),
    ("check_valves = true", 'check_valves = "yes"', "supply.check_valves", ["found"]),
    ('kind = "stove"', 'kind = "stov"', "appliance.stove.kind", ['did you mean "stove"?']),
    ('kind = "stove"', "", "appliance.stove", ["kind is missing"]),
    ('"16000 Btu/h"', '"-1 W"', "appliance.furnace.input", ["at least 0 W"]),
    ('"16000 Btu/h"', '"inf W"', "appliance.furnace.input", ["must be finite"]),
    ('"16000 Btu/h"', '"1e9 W"', "appliance.furnace.input", ["at most 3000 kW"]),
    ('use = "thermostat"', 'use = "allways"', "appliance.furnace.use", ['"always"']),
    ('from = "07:00"', 'from = "7 am"', "appliance.stove.use[1].from", ["24-hour clock"]),
    ('from = "07:00"', 'from = "07:60"', "appliance.stove.use[1].from", ["24-hour clock"]),
    ('to = "18:40"', 'to = "18:00"', "appliance.stove.use[2]", ["ends when it starts"]),
    ("tries = 3", "tries = 3.5", "appliance.furnace.tries", ["whole number"]),
    ("tries = 3", "tries = 0", "appliance.furnace.tries", ["greater than or equal to 1"]),
    ('material = "plywood"', 'material = "plywod"', None, ["did you mean plywood?"]),
    ('U = "0.9 W/m2K"', "", "shelter.surfaces.walls", ["neither U nor layers"]),
    ('faces = "up"', 'faces = "up"\nU = "1 W/m2K"', None, ["give one of them"]),
    ("count = 2", "count = -2", "people.count", ["greater than or equal to 0"]),
    ('asleep = "22:00', 'asleep = "10 pm', "people.asleep", ["22:00"]),
    ("[people]", "[battery]\n[people]", "battery", ["does not compute it yet"]),
    ("[people]", "[uncertainty]\n[people]", "uncertainty", ["does not compute it yet"]),
]


@pytest.mark.parametrize(("old", "new", "key", "words"), MISTAKES, ids=[m[1] for m in MISTAKES])
def test_a_mistake_is_answered_at_its_place(
    old: str, new: str, key: str | None, words: list[str]
) -> None:
    error = refusal(old, new)
    assert error.file == "trip.toml"
    for word in words:
        assert word in str(error)
    assert "\n" not in str(error)
    if key is not None:
        assert error.key is not None
        assert error.key.startswith(key)


@pytest.mark.parametrize(
    ("old", "new"),
    [(old, new) for old, new, *_ in MISTAKES if new and "\n" not in new and old.count('"') != 1],
)
def test_the_line_is_the_one_that_was_damaged(old: str, new: str) -> None:
    # cross-checks point to the second of two keys or to the table, at most two lines off
    error = refusal(old, new)
    assert error.line is not None
    assert abs(error.line - line_of(old, GOOD)) <= 2


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("", "the key trip is missing"),
        ("[trip]\n", "weather is missing"),
        ("trip = 3\n", "a table of keys is needed"),
        (SMALLEST.split("[[cylinder]]")[0], "cylinder is missing"),
        (SMALLEST.replace("[[cylinder]]", "[cylinder]"), "two brackets"),
        (SMALLEST.split("[[cylinder]]")[0] + "cylinder = []\n", "unknown key"),
        ("cylinder = []\n" + SMALLEST.split("[[cylinder]]")[0], "at least 1 item"),
        (SMALLEST + "\n[[cylinder]]" * 101, "at most 100 items"),
    ],
)
def test_a_file_without_its_parts_says_which(text: str, word: str) -> None:
    with pytest.raises(Exception, match=word):
        parse_trip(text)


def test_the_first_mistake_of_the_file_is_the_one_that_is_told() -> None:
    text = changed("count = 2", "count = 2.5", changed('"64 h"', "64"))
    assert refusal('name = "A"', 'nmae = "A"', text).key == "trip.length"


def test_a_control_character_in_a_key_does_not_reach_the_terminal() -> None:
    assert "\x1b" not in str(refusal("[people]", '["\\u001b[31m"]\n[people]'))


def test_the_keys_offered_are_the_aliases_that_people_write() -> None:
    assert known_keys(("appliance", 0, "use", 0)) == ["from", "to"]
