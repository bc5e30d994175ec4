"""Whatever a file holds, reading it ends with a trip or with one message, and soon."""

import math
import tomllib
from contextlib import suppress
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from coldsoak.errors import InputError
from coldsoak.rig.read import parse_trip, read_trip
from coldsoak.rig.trip import Trip

from .example import GOOD, SMALLEST

LINES = GOOD.splitlines(keepends=True)


def numbers_in(value: Any) -> list[float]:
    """Every number of a resolved trip."""
    if isinstance(value, float | int):
        return [float(value)]
    if isinstance(value, tuple):
        return [number for each in value for number in numbers_in(each)]
    if is_dataclass(value):
        return [
            number
            for each in fields(value)
            if each.name != "source"
            for number in numbers_in(getattr(value, each.name))
        ]
    return []


def read_or_refuse(text: str) -> Trip | None:
    """The trip, or None after an error that names the file in one line."""
    try:
        trip = parse_trip(text)
    except InputError as error:
        assert error.file == "trip.toml"  # noqa: PT017
        assert "\n" not in str(error)  # noqa: PT017
        return None
    assert all(math.isfinite(number) for number in numbers_in(trip))
    return trip


@st.composite
def damaged(draw: st.DrawFn) -> str:
    """The good file with a few characters dropped, doubled, changed or put in."""
    text = GOOD
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(text) - 1))
        length = draw(st.integers(0, 6))
        new = draw(st.text(st.sampled_from('"=[]{}.,#\n\\-e019 %ablb\x00é'), max_size=3))
        repeat = draw(st.integers(0, 2))
        text = text[:at] + new + text[at : at + length] * repeat + text[at + length :]
    return text


@st.composite
def reordered(draw: st.DrawFn) -> str:
    """The good file with whole lines dropped, doubled or moved."""
    lines = list(LINES)
    for _ in range(draw(st.integers(1, 5))):
        line = lines.pop(draw(st.integers(0, len(lines) - 1)))
        for _ in range(draw(st.integers(0, 2))):
            lines.insert(draw(st.integers(0, len(lines))), line)
    return "".join(lines)


ODD_VALUES = st.sampled_from(
    [
        *("0", "-1", "1e400", "nan", "inf", "-inf", "true", "9" * 400, "[]", "{}", "''", "0x7f"),
        *("[[[1]]]", "{ a = 1 }", "1979-05-27", "07:32:00", "1979-05-27T07:32:00Z"),
        *('"unknown"', '"nan kg"', '"1e308 kg"', '"-0 lb"', '"0 m"', '"1e-300 m2"', '"5 .. 6"'),
        *('"unknown .. 3 kg"', '"1 kg .. 2 kg"', '"always"', '"thermostat"', '"\\u0000"'),
        *('"10000 %"', '"100 %"', '"0 %"', '"-273.15 degC"', '"55 degC"', '"0 W/m2K"'),
    ]
)

ASSIGNMENTS = [index for index, line in enumerate(LINES) if " = " in line and line[0] not in "# "]


@st.composite
def with_odd_values(draw: st.DrawFn) -> str:
    """The good file with some values of another kind or size."""
    lines = list(LINES)
    for index in draw(st.lists(st.sampled_from(ASSIGNMENTS), min_size=1, max_size=3)):
        key = lines[index].split(" = ")[0]
        lines[index] = f"{key} = {draw(ODD_VALUES)}\n"
    return "".join(lines)


PLAIN = settings(deadline=5000, max_examples=150)


@PLAIN
@given(damaged())
def test_a_damaged_file_is_read_or_refused(text: str) -> None:
    read_or_refuse(text)


@PLAIN
@given(reordered())
def test_a_shuffled_file_is_read_or_refused(text: str) -> None:
    read_or_refuse(text)


@PLAIN
@given(with_odd_values())
def test_odd_values_are_read_or_refused(text: str) -> None:
    read_or_refuse(text)


@PLAIN
@given(st.text(max_size=200))
@example("\ufeff" + GOOD)
def test_any_text_is_read_or_refused(text: str) -> None:
    read_or_refuse(text)


@settings(deadline=5000, max_examples=50)
@given(st.binary(max_size=200))
@example(GOOD.encode("utf-8-sig"))
@example(GOOD.encode("utf-16"))
@example(GOOD.encode("latin-1") + b"\xe9")
def test_any_bytes_are_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, raw: bytes
) -> None:
    path: Path = tmp_path_factory.mktemp("damage") / "trip.toml"
    path.write_bytes(raw)
    with suppress(InputError):
        assert isinstance(read_trip(path), Trip)


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=10),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3)
    ),
    max_leaves=8,
)


def written(value: Any) -> str:
    """A value as TOML."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return "[" + ", ".join(written(each) for each in value) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{quoted(k)} = {written(v)}" for k, v in value.items()) + "}"
    return quoted(value) if isinstance(value, str) else str(value or 0)


def quoted(text: str) -> str:
    """A text as a TOML string, letter by letter."""
    return '"' + "".join(f"\\U{ord(c):08x}" for c in text if not 0xD800 <= ord(c) < 0xE000) + '"'


TABLES = sorted(tomllib.loads(GOOD))


@PLAIN
@given(st.sampled_from(TABLES), st.text(max_size=8), VALUES)
def test_any_key_with_any_value_is_read_or_refused(table: str, key: str, value: Any) -> None:
    text = f"{SMALLEST}[{table}]\n" if table not in ("trip", "cylinder") else f"{SMALLEST}"
    read_or_refuse(f"{text}{quoted(key)} = {written(value)}\n")
