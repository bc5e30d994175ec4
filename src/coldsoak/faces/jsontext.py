"""Strict JSON text for other programs: no NaN, fixed key order, plain ASCII on any terminal."""

import json
import math
from typing import Any


def finite(value: Any) -> Any:
    """Give the same object with every number that is not finite replaced by None.

    >>> finite({"a": [1.0, float("nan")]})
    {'a': [1.0, None]}
    """
    if isinstance(value, dict):
        return {key: finite(entry) for key, entry in value.items()}
    if isinstance(value, list | tuple):
        return [finite(entry) for entry in value]
    return None if isinstance(value, float) and not math.isfinite(value) else value


def json_text(value: Any) -> str:
    """Give an object of dicts, lists, texts and numbers as indented JSON."""
    return json.dumps(finite(value), indent=2, allow_nan=False)
