"""A key is found on the line where it is written, however it is written."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldsoak.errors import TripError
from coldsoak.rig.tomlfile import LARGEST, line_numbers, parse_toml, read_toml

TEXT = """\
# a comment
plain = 1
dotted.key."with space" = 2

[table]   # another
"quoted" = { one = 1, two.three = 2 }
many = [
    "first",   # kept

    # nothing here
    { from = "07:00" },
    [1,
     2],
]

[[list]]
name = "A"
[list.inner]
x = 1

[[list]]
[list.inner.deep]
y = '''
two lines'''
z = 3
[[list.parts]]
a = 1
[[list.parts]]
a = 2
"""

LINES = {
    ("plain",): 2,
    ("dotted",): 3,
    ("dotted", "key"): 3,
    ("dotted", "key", "with space"): 3,
    ("table",): 5,
    ("table", "quoted"): 6,
    ("table", "quoted", "one"): 6,
    ("table", "quoted", "two"): 6,
    ("table", "quoted", "two", "three"): 6,
    ("table", "many"): 7,
    ("table", "many", 0): 8,
    ("table", "many", 1): 11,
    ("table", "many", 1, "from"): 11,
    ("table", "many", 2): 12,
    ("table", "many", 2, 0): 12,
    ("table", "many", 2, 1): 13,
    ("list",): 16,
    ("list", 0): 16,
    ("list", 0, "name"): 17,
    ("list", 0, "inner"): 18,
    ("list", 0, "inner", "x"): 19,
    ("list", 1): 21,
    ("list", 1, "inner"): 22,
    ("list", 1, "inner", "deep"): 22,
    ("list", 1, "inner", "deep", "y"): 23,
    ("list", 1, "inner", "deep", "z"): 25,
    ("list", 1, "parts"): 26,
    ("list", 1, "parts", 0): 26,
    ("list", 1, "parts", 0, "a"): 27,
    ("list", 1, "parts", 1): 28,
    ("list", 1, "parts", 1, "a"): 29,
}


def test_every_kind_of_key_has_its_line() -> None:
    assert line_numbers(TEXT) == LINES


def test_windows_line_ends_and_a_byte_order_mark_change_nothing(tmp_path: Path) -> None:
    path = tmp_path / "trip.toml"
    path.write_bytes(b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode())
    toml = read_toml(path)
    assert toml.lines == LINES
    assert toml.data["list"][1]["parts"] == [{"a": 1}, {"a": 2}]


def test_a_missing_key_is_looked_for_on_the_line_of_its_table() -> None:
    toml = parse_toml(TEXT, "trip.toml")
    assert toml.line(("list", 1, "missing")) == 21
    assert toml.line(("table", "quoted", "four")) == 6
    assert toml.line(("missing",)) is None


NAMES = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=8)


@given(st.lists(NAMES, min_size=1, max_size=6, unique=True), st.integers(0, 3))
def test_any_quoted_key_has_its_line(names: list[str], blank: int) -> None:
    literal = [name.replace("\\", "\\\\").replace('"', '\\"') for name in names]
    text = "".join("\n" * blank + f'"{name}" = 1\n' for name in literal)
    wanted = {(name,): (blank + 1) * (i + 1) for i, name in enumerate(names)}
    assert line_numbers(text) == wanted


@pytest.mark.parametrize(
    ("raw", "line", "word"),
    [
        (b"a = \n", 1, "not valid TOML"),
        (b"\na = = 1", 2, "not valid TOML"),
        (b"a = 1\na = 2", 2, "twice"),
        (b"x = 1\n\n[t]\n[t]\n", 4, "twice"),
        (b"a = 1\nb = '\xff'\n", 2, "UTF-8"),
        ("a = 1".encode("utf-16"), 1, "UTF-8"),
        (b"a = " + b"[" * 3000, None, "nested too deeply"),
        (b"a = '" + b"x" * 5000 + b"'", 1, "shorter lines"),
        (b"#\n" * LARGEST, None, "128 kB"),
        (b"\x00\x01\x02", 1, "not valid TOML"),
        (b'a = "', 1, "not valid TOML"),
    ],
)
def test_a_file_that_is_not_toml_gets_one_message(
    tmp_path: Path, raw: bytes, line: int | None, word: str
) -> None:
    path = tmp_path / "trip.toml"
    path.write_bytes(raw)
    with pytest.raises(TripError, match=word) as caught:
        read_toml(path)
    assert caught.value.line == line
    assert caught.value.file == str(path)
    assert "\n" not in str(caught.value)


def test_a_folder_is_answered_with_the_file_in_it(tmp_path: Path) -> None:
    with pytest.raises(TripError, match="found a folder"):
        read_toml(tmp_path)
    (tmp_path / "trip.toml").touch()
    with pytest.raises(TripError, match=r"trip\.toml"):
        read_toml(tmp_path)


def test_a_missing_file_is_answered_with_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(TripError, match="coldsoak start"):
        read_toml(tmp_path / "none.toml")


@pytest.mark.parametrize(
    "line",
    [
        ".".join("a" * 1900) + " = 1",
        "[" + ".".join("a" * 1900) + "]",
        "a = " + "{a=" * 60 + "1" + "}" * 60,
    ],
)
def test_keys_of_absurd_depth_are_read_without_a_hang(line: str) -> None:
    assert line_numbers(line)[("a",)] == 1
    assert parse_toml(line, "trip.toml").data
