"""The JSON schema of the trip file: every key with its meaning, its units and its bounds."""

from typing import Any

from coldsoak.rig.document import NOT_COMPUTED_YET, TripDocument
from coldsoak.rig.quantity import WRITING


def trip_schema() -> dict[str, Any]:
    """The JSON schema (draft 2020-12) of a trip file, as TOML data.

    Dates and times are native TOML values, which JSON shows as text. Quantities are texts; the
    units that each one takes stand in its description and in the keyword ``units``.

    >>> "cylinder" in trip_schema()["required"]
    True
    """
    return _described(TripDocument.model_json_schema(by_alias=True)) | {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "coldsoak.trip/1",
        "title": "coldsoak trip file",
        "description": (
            "What is taken along, and where to. Quantities are texts with a unit; pressures are "
            "gauge pressures against the local station pressure. Not computed by this version, and "
            f"refused: {', '.join(f'[{name}]' for name in NOT_COMPUTED_YET)}."
        ),
    }


def _described(node: dict[str, Any]) -> dict[str, Any]:
    """The schema in the file's terms: no null for a missing key, and how to write a quantity."""
    result = {key: _any_described(value) for key, value in _present(node).items()}
    if WRITING in result:
        writing, meaning = result.pop(WRITING), result.get("description")
        result["description"] = f"{meaning} {writing}" if meaning else writing
    return result


def _any_described(part: Any) -> Any:
    if isinstance(part, list):
        return [_any_described(each) for each in part]
    return _described(part) if isinstance(part, dict) else part


def _present(node: dict[str, Any]) -> dict[str, Any]:
    """A node without the null that stands for a missing key; TOML has none."""
    rest = {key: value for key, value in node.items() if (key, value) != ("default", None)}
    if isinstance(rest.get("title"), str):
        del rest["title"]
    forms = rest.get("anyOf", [])
    kept = [form for form in forms if form != {"type": "null"}]
    if len(kept) == 1 and len(forms) == 2:
        del rest["anyOf"]
        return {**kept[0], **rest}
    return rest
