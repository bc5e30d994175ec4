"""The first thing wrong with a trip file, in words: place, found, allowed, nearest word."""

from typing import Any, NamedTuple, get_args

from pydantic import BaseModel, ValidationError

from coldsoak.errors import TripError
from coldsoak.rig.catalogue import nearest
from coldsoak.rig.document import NOT_COMPUTED_YET, TripDocument
from coldsoak.rig.quantity import kind_of
from coldsoak.rig.source import key_text
from coldsoak.rig.tomlfile import Key, TomlFile
from coldsoak.rig.units import shown

LAST = 1 << 30


class Mistake(NamedTuple):
    """One fault of the document, before it is put into words."""

    key: Key
    line: int | None
    error: Any


def first_mistake(error: ValidationError, toml: TomlFile) -> TripError:
    """The fault that stands first in the file, as the one message a person gets."""
    mistakes = [_mistake(entry, toml) for entry in error.errors(include_url=False)]
    mistake = min(_causes(mistakes), key=lambda each: each.line or LAST)
    found, allowed = _words(mistake)
    return TripError(
        found,
        allowed,
        file=toml.name,
        line=mistake.line,
        key=key_text(toml.data, mistake.key) or None,
    )


def _causes(mistakes: list[Mistake]) -> list[Mistake]:
    """The mistakes without keys that are missing because they stand there misspelled."""
    misspelled = {each.key[:-1] for each in mistakes if each.error["type"] == "extra_forbidden"}
    return [
        each
        for each in mistakes
        if each.error["type"] != "missing" or each.key[:-1] not in misspelled
    ]


def _mistake(entry: Any, toml: TomlFile) -> Mistake:
    """A pydantic error with the key and the line of the file it belongs to."""
    key = tuple(part for part in entry["loc"] if not str(part).startswith("<"))
    return Mistake(key, toml.line(key), entry)


def _words(mistake: Mistake) -> tuple[str, str]:
    """What was found and what is allowed."""
    entry = mistake.error
    context = entry.get("ctx", {})
    match entry["type"]:
        case "coldsoak":
            return context["found"], context["allowed"]
        case "extra_forbidden":
            return _unknown_key(mistake.key)
        case "missing":
            return f"the key {mistake.key[-1]} is missing", _missing_hint(mistake.key)
        case "literal_error":
            return _unknown_word(entry["input"], context["expected"])
        case "model_type" | "model_attributes_type" | "dict_type":
            return f"found {kind_of(entry['input'])}", "a table of keys is needed here"
        case "list_type":
            return f"found {kind_of(entry['input'])}", _list_hint(mistake.key)
        case "float_type" | "int_type":
            return f"found {kind_of(entry['input'])}", f"write {_number(entry['type'])}"
        case _:
            return f"found {kind_of(entry['input'])}", _plain(entry["msg"])


def _number(error_type: str) -> str:
    """What kind of bare number is meant."""
    kind = "whole number" if error_type == "int_type" else "number"
    return f"a {kind} without quotation marks"


def _plain(message: str) -> str:
    """pydantic's own words, for the plain limits of numbers, texts and lists."""
    return message[:1].lower() + message[1:].replace("Input should", "it should").replace(
        "nput should", "t should"
    )


def _unknown_key(key: Key) -> tuple[str, str]:
    """The answer to a key that no table knows."""
    word = str(key[-1])
    if len(key) == 1 and word in NOT_COMPUTED_YET:
        return f"found [{word}]", "this version does not compute it yet: remove the table"
    known = known_keys(key[:-1])
    close = nearest(word, known)
    hint = f"did you mean {close}? " if close else ""
    return f"unknown key {shown(word)}", f"{hint}allowed here: {', '.join(known)}"


def _unknown_word(value: object, expected: str) -> tuple[str, str]:
    """The answer to a word that is not one of the allowed ones."""
    words = [part.strip("' ") for part in expected.replace(" or ", ",").split(",")]
    close = nearest(value, words) if isinstance(value, str) else None
    hint = f'did you mean "{close}"? ' if close else ""
    return f"found {kind_of(value)}", f"{hint}allowed: " + ", ".join(f'"{each}"' for each in words)


def _missing_hint(key: Key) -> str:
    """What to write for a key that must be there."""
    if key == ("cylinder",):
        return "describe at least one [[cylinder]]"
    if key == ("trip",):
        return "start the file with [trip] and its weather"
    if key == ("trip", "weather"):
        return 'name a file, or write weather = { temperature = "-20 degC" }'
    field = _field(key)
    return f"give it: {field[:1].lower()}{field[1:]}" if field else "give it"


def _list_hint(key: Key) -> str:
    if key in (("cylinder",), ("appliance",), ("line",)):
        return f"write [[{key[0]}]] with two brackets for each"
    return "a list in brackets is needed here"


def _field(key: Key) -> str | None:
    """The description of a key."""
    for model in models_at(key[:-1]):
        for name, field in model.model_fields.items():
            if (field.alias or name) == key[-1]:
                return (field.description or "").rstrip(".") or None
    return None


def known_keys(key: Key) -> list[str]:
    """The keys that a table of the trip file may have."""
    return [
        field.alias or name
        for model in models_at(key)
        for name, field in model.model_fields.items()
    ]


def models_at(key: Key) -> list[type[BaseModel]]:
    """The models that may stand at a key; more than one where a value has several forms."""
    models: list[type[BaseModel]] = [TripDocument]
    for part in key:
        if isinstance(part, int):
            continue
        annotations = [
            field.annotation
            for model in models
            for name, field in model.model_fields.items()
            if (field.alias or name) == part
        ]
        models = [model for annotation in annotations for model in _models_in(annotation)]
    return models


def _models_in(annotation: Any) -> list[type[BaseModel]]:
    """Every model named in a type annotation."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    found: list[type[BaseModel]] = []
    for part in get_args(annotation):
        found.extend(model for model in _models_in(part) if model not in found)
    return found
