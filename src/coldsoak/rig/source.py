"""Where a trip came from: its file, the plain data in it, and the checked document."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from coldsoak.errors import TripError
from coldsoak.rig.document import TripDocument
from coldsoak.rig.tomlfile import Key, TomlFile
from coldsoak.rig.units import shown


@dataclass(frozen=True)
class Source:
    """A trip file that keeps its schema, ready to be resolved."""

    toml: TomlFile
    document: TripDocument
    path: Path | None

    def error(
        self, key: Key, found: str, allowed: str, kind: type[TripError] = TripError
    ) -> TripError:
        """An error that names the file, the line and the key."""
        return kind(
            found,
            allowed,
            file=self.toml.name,
            line=self.toml.line(key),
            key=key_text(self.toml.data, key),
        )


def key_text(data: Any, key: Key) -> str:
    """A key as people read it, with the names of cylinders and appliances for their numbers.

    >>> key_text({"cylinder": [{"name": "A"}, {}]}, ("cylinder", 0, "fill"))
    'cylinder.A.fill'
    >>> key_text({"cylinder": [{"name": "A"}, {}]}, ("cylinder", 1, "fill"))
    'cylinder[2].fill'
    """
    text = ""
    for part in key:
        data = _inside(data, part)
        name = data.get("name") if isinstance(data, dict) else None
        if isinstance(part, str):
            word = shown(part)[1:-1]
            text += f".{word}" if text else word
        elif isinstance(name, str) and name and len(name) <= 80 and name.isprintable():
            text += f".{name}"
        else:
            text += f"[{part + 1}]"
    return text


def _inside(data: Any, part: str | int) -> Any:
    """What stands at one part of a key, or None."""
    try:
        return data[part]
    except (KeyError, IndexError, TypeError):
        return None
