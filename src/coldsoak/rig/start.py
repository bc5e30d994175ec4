"""The text of a new trip file, from a few answers; every answer has a default."""

from dataclasses import dataclass
from datetime import datetime
from math import ceil
from typing import NamedTuple

from coldsoak.errors import InputError
from coldsoak.rig.clock import DAY
from coldsoak.rig.read import parse_trip
from coldsoak.rig.units import UnitsError, parse


class Question(NamedTuple):
    """One thing to ask: the field of :class:`Answers` it fills, the words, and an example."""

    field: str
    words: str
    example: str


@dataclass(frozen=True)
class Answers:
    """What a new trip is made from, in people's own units; the defaults are an invented trip."""

    name: str = "Invented trip, two nights"
    start: str = "2026-01-16T16:00:00"
    length: str = "40 h"
    elevation: str = "800 m"
    low: str = "-22 degC"
    high: str = "-12 degC"
    fuel: str = "commercial propane"
    size: str = "20 lb"
    contents: str = "18 lb"
    cylinders: int = 2
    furnace: str = "12000 Btu/h"


QUESTIONS = (
    Question("name", "What is the trip called?", "two nights at the lake"),
    Question("start", "When does it start (local time)?", "2026-01-16T16:00:00"),
    Question("length", "How long is it?", "40 h"),
    Question("elevation", "How high is the place?", "800 m"),
    Question("low", "How cold are the nights?", "-22 degC"),
    Question("high", "How warm are the days?", "-12 degC"),
    Question("fuel", "What fuel is it?", "commercial propane"),
    Question("size", "What size are the cylinders?", "20 lb"),
    Question("contents", "How much fuel is in each?", "18 lb"),
    Question("cylinders", "How many cylinders?", "2"),
    Question("furnace", "What is the furnace's input?", "12000 Btu/h"),
)

TEMPLATE = """\
# A trip file. Every quantity is a text with a unit; "10 lb .. 14 lb" or "unknown" may stand for
# one that is not known. `coldsoak schema trip` lists every key, `coldsoak explain` every default.

[trip]
name = {name}
start = {start}
length = {length}
place = {{ elevation = {elevation} }}   # latitude and longitude in degrees, for the sun
# one low and one high for each day; or the name of a weather file beside this one (EPW, TMY3, CSV)
weather = {{ lows = [{lows}], highs = [{highs}] }}

[fuel]
blend = {fuel}   # or mole fractions: {{ propane = 0.6, n-butane = 0.4 }}

{cylinders}
[supply]
arrangement = "one at a time"   # one at a time | together | automatic changeover
regulator = "two-stage 11 inH2O"

# Every pipe, tube and hose, for `coldsoak lines`; without any, lines lose nothing.
# [[line]]
# from = "regulator"   # regulator | cylinder | a place that another line leads to
# to = "furnace"   # an appliance, or a place where other lines begin
# kind = "copper"   # pipe | copper | hose | CSST
# size = "3/8 in"
# length = "4 m"
# fittings = {{ elbow = 3 }}

[[appliance]]
name = "furnace"
kind = "furnace"
input = {furnace}   # as on its rating plate
use = "thermostat"
set = "18 degC"
setback = [{{ from = "22:00", to = "06:00", set = "14 degC" }}]

[[appliance]]
name = "stove"
kind = "stove"
input = "7000 Btu/h"
use = [{{ from = "07:00", to = "07:25" }}, {{ from = "18:00", to = "18:40" }}]

# An invented shelter: put in your own areas and heat transfer.
[shelter]
floor = {{ area = "10 m2", U = "0.8 W/m2K", to = "air" }}
surfaces = [
    {{ name = "walls", area = "26 m2", U = "0.9 W/m2K" }},
    {{ name = "roof", area = "10 m2", U = "0.8 W/m2K" }},
]
windows = [{{ area = "1.5 m2", U = "2.8 W/m2K" }}]

[people]
count = 2
asleep = "22:00 .. 07:00"
"""

CYLINDER = """\
[[cylinder]]
name = {name}
size = {size}
contents = {contents}   # or gross, what the scale reads; or fill, the liquid level
role = "supply"   # supply | reserve | spare, used in the order of the file
place = "open"   # open | covered | locker
"""

MOST_CYLINDERS = 26
MOST_DAYS = 100


def trip_text(answers: Answers) -> str:
    """The text of a trip file that :func:`coldsoak.rig.read.read_trip` accepts.

    Raises InputError for an answer that the trip file could not hold.

    >>> trip_text(Answers()).splitlines()[3]
    '[trip]'
    """
    if not 1 <= answers.cylinders <= MOST_CYLINDERS:
        raise InputError(f"found {answers.cylinders} cylinders", f"give 1 to {MOST_CYLINDERS}")
    start = _start(answers.start)
    days = _days(start, answers.length)
    text = TEMPLATE.format(
        name=quoted(answers.name),
        start=start.isoformat(timespec="seconds"),
        length=quoted(answers.length),
        elevation=quoted(answers.elevation),
        lows=", ".join([quoted(answers.low)] * days),
        highs=", ".join([quoted(answers.high)] * days),
        fuel=quoted(answers.fuel),
        cylinders="\n".join(_cylinder(answers, index) for index in range(answers.cylinders)),
        furnace=quoted(answers.furnace),
    )
    parse_trip(text, "the new trip file")
    return text


def _cylinder(answers: Answers, index: int) -> str:
    return CYLINDER.format(
        name=quoted(chr(ord("A") + index)),
        size=quoted(answers.size),
        contents=quoted(answers.contents),
    )


def _days(start: datetime, length: str) -> int:
    """How many calendar days a trip touches."""
    try:
        seconds = parse(length, "time")
    except UnitsError as error:
        raise InputError(error.found, error.allowed, key="length") from None
    midnight = start.replace(hour=0, minute=0, second=0)
    days = ceil(((start - midnight).total_seconds() + seconds) / DAY)
    return min(max(days, 1), MOST_DAYS)


def _start(text: str) -> datetime:
    """The start as a date and time."""
    try:
        return datetime.fromisoformat(text.strip()).replace(microsecond=0)
    except ValueError:
        raise InputError(
            f'found the start "{text}"', 'write a date and time as "2026-01-16T16:00:00"'
        ) from None


def quoted(text: str) -> str:
    """A text as a TOML basic string.

    >>> print(quoted('the "high" hut'))
    "the \\"high\\" hut"
    """
    escaped = "".join(
        f"\\u{ord(letter):04x}" if ord(letter) < 0x20 or ord(letter) == 0x7F else letter
        for letter in text.replace("\\", "\\\\").replace('"', '\\"')
    )
    return f'"{escaped}"'
