"""A TOML file as plain data, together with the line on which each value stands.

The standard library's parser gives the data and decides what is TOML at all; tree-sitter's TOML
grammar gives the positions, which that parser does not keep.
"""

import re
import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from coldsoak.errors import TripError

if TYPE_CHECKING:
    from tree_sitter import Node

Key = tuple[str | int, ...]

LARGEST = 131_072
"""Most bytes of a trip file; one with a hundred cylinders has a fifth of this."""
LONGEST_LINE = 4_000
"""Most characters of a line. TOML parsers take quadratic time for a key of very many dots."""
DEEPEST = 16
"""Keys nested deeper than this have no line of their own; the schema knows eight levels."""
TOML_PLACE = re.compile(r"\s*\(at (?:line (?P<line>\d+), column \d+|end of document)\)$")


ONE_A_LINE = 'write key = "value" on a line of its own below its [table]'
TWICE = "a key or table stands twice; cylinders and appliances need two brackets, [[cylinder]]"


class TomlFile(NamedTuple):
    """The data of a file and the 1-based line of every key in it."""

    name: str
    data: dict[str, Any]
    lines: dict[Key, int]

    def line(self, key: Key) -> int | None:
        """The line of a key, or of the nearest table around it that is written in the file."""
        for length in range(len(key), 0, -1):
            if key[:length] in self.lines:
                return self.lines[key[:length]]
        return None


def read_toml(path: Path) -> TomlFile:
    """Read a TOML file.

    Raises TripError for a file that is missing, a folder, too large, not UTF-8 or not TOML.
    """
    return parse_toml(_text(path), str(path))


def parse_toml(text: str, name: str) -> TomlFile:
    """The data and lines of a TOML text; `name` is what error messages call the file."""
    for number, row in enumerate(text.split("\n"), 1):
        if len(row) > LONGEST_LINE:
            found = f"found a line of {len(row)} characters"
            raise TripError(found, "break it into shorter lines", file=name, line=number)
    try:
        data = tomllib.loads(text)
    except RecursionError:
        raise TripError("found brackets nested too deeply", "write it flatter", file=name) from None
    except ValueError as error:
        raise _not_toml(str(error), text, name) from None
    return TomlFile(name, data, line_numbers(text))


def _not_toml(message: str, text: str, name: str) -> TripError:
    """The error for a text that is not TOML, with the line if the parser named one."""
    place = TOML_PLACE.search(message)
    last = text.count("\n") + 1
    line = (int(place["line"]) if place["line"] else last) if place else None
    return TripError(
        f"not valid TOML: {TOML_PLACE.sub('', message)}",
        TWICE if "overwrite" in message or "declare" in message else ONE_A_LINE,
        file=name,
        line=line,
    )


def _text(path: Path) -> str:
    """The text of a file, with one clear error for whatever keeps it from being read."""
    name = str(path)
    if path.is_dir():
        inner = path / "trip.toml"
        hint = f"give the trip file in it, {inner}" if inner.is_file() else "give a trip file"
        raise TripError("found a folder", hint, file=name)
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise TripError("no such file", "`coldsoak start DIR` makes one", file=name) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise TripError(f"cannot be read ({reason})", "give a readable file", file=name) from None
    if len(raw) > LARGEST:
        raise TripError("found more than 128 kB", "a trip file is a page of text", file=name)
    return _decoded(raw, name)


def _decoded(raw: bytes, name: str) -> str:
    """UTF-8 text without a byte order mark and with plain line ends."""
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        found = f"found the byte 0x{raw[error.start]:02x}, which is not UTF-8 text"
        raise TripError(found, "save the file as UTF-8", file=name, line=line) from None
    return text.replace("\r\n", "\n")


def line_numbers(text: str) -> dict[Key, int]:
    """The 1-based line of every key, table and array element of a valid TOML text.

    Keys are tuples of names and, for arrays and arrays of tables, 0-based indices.

    >>> lines = line_numbers('[[cylinder]]\\nheater = { power = "60 W" }')
    >>> lines["cylinder", 0, "heater", "power"]
    2
    """
    import tree_sitter
    import tree_sitter_toml

    language = tree_sitter.Language(tree_sitter_toml.language())
    root = tree_sitter.Parser(language).parse(text.encode("utf-8")).root_node
    lines: dict[Key, int] = {}
    counts: dict[Key, int] = {}
    for node in root.named_children:
        if node.type == "pair":
            _note_pair(node, (), lines)
        elif node.type in ("table", "table_array_element"):
            _note_table(node, lines, counts)
    return lines


def _note_table(node: "Node", lines: dict[Key, int], counts: dict[Key, int]) -> None:
    """Note a [table] or [[table]] header and the pairs below it."""
    header, *pairs = [child for child in node.named_children if child.type != "comment"]
    key = _absolute(_names(header), counts)
    if node.type == "table_array_element":
        counts[key] = counts.get(key, -1) + 1
        lines.setdefault(key, _line(header))
        key = (*key, counts[key])
    _note_key((), key, _line(header), lines)
    for pair in pairs:
        if pair.type == "pair":
            _note_pair(pair, key, lines)


def _absolute(names: tuple[str, ...], counts: dict[Key, int]) -> Key:
    """A header's names, with the index of the latest element after each array of tables."""
    key: Key = ()
    for position, name in enumerate(names):
        key = (*key, name)
        if position < len(names) - 1 and key in counts:
            key = (*key, counts[key])
    return key


def _note_pair(pair: "Node", above: Key, lines: dict[Key, int]) -> None:
    """Note one `key = value` and everything inside its value."""
    children = [child for child in pair.named_children if child.type != "comment"]
    if len(children) != 2:
        return
    key = (*above, *_names(children[0]))
    _note_key(above, key, _line(children[0]), lines)
    _note_value(children[1], key, lines)


def _note_key(above: Key, key: Key, line: int, lines: dict[Key, int]) -> None:
    """Note a key and the tables that its dots imply."""
    for length in range(len(above) + 1, min(len(key), DEEPEST) + 1):
        lines.setdefault(key[:length], line)


def _note_value(value: "Node", key: Key, lines: dict[Key, int]) -> None:
    """Note what stands inside an inline table or an array."""
    if len(key) >= DEEPEST:
        return
    if value.type == "inline_table":
        for pair in value.named_children:
            if pair.type == "pair":
                _note_pair(pair, key, lines)
    elif value.type == "array":
        items = [child for child in value.named_children if child.type != "comment"]
        for index, item in enumerate(items):
            lines[(*key, index)] = _line(item)
            _note_value(item, (*key, index), lines)


def _names(node: "Node") -> tuple[str, ...]:
    """The parts of a bare, quoted or dotted key; the grammar nests the latter to the left."""
    last_first = []
    while node.type == "dotted_key":
        node, last = node.named_children
        last_first.append(_name(last))
    return (_name(node), *reversed(last_first))


def _name(node: "Node") -> str:
    """One part of a key without its quotation marks."""
    text = (node.text or b"").decode("utf-8")
    return next(iter(tomllib.loads(f"{text} = 0"))) if node.type == "quoted_key" else text


def _line(node: "Node") -> int:
    return int(node.start_point[0]) + 1
