"""JSON for other programs is strict: it has no NaN and any terminal can carry it."""

import json

from hypothesis import given
from hypothesis import strategies as st

from coldsoak.faces.jsontext import json_text

VALUES = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
    max_leaves=20,
)


def refuse(constant: str) -> None:
    """Fail on what JSON does not have."""
    raise AssertionError(constant)


@given(VALUES)
def test_any_value_becomes_strict_ascii_json(value: object) -> None:
    text = json_text(value)
    json.loads(text, parse_constant=refuse)
    assert text.isascii()


def test_keys_keep_their_order() -> None:
    assert list(json.loads(json_text({"b": 1, "a": 2}))) == ["b", "a"]
