"""From pydantic's list of errors to the one that a person should see first, in plain words."""

from collections.abc import Sequence
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from flueproof.bench.errors import RecordError
from flueproof.bench.record.locating import field_at, json_path, model_at, place_without_tags
from flueproof.bench.record.values.spelling import nearest_word

_NUMBER = ("float_type", "int_type", "int_from_float", "float_parsing", "int_parsing")
_OBJECT = ("model_type", "dict_type", "model_attributes_type")
_EXPECTED = {
    **dict.fromkeys(_NUMBER, "a number"),
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "string_type": "a text in quotes",
    "bool_type": "true or false",
    **dict.fromkeys(_OBJECT, "an object in braces"),
    "tuple_type": "a list in square brackets",
}
_COMPARED = {
    "greater_than": ("gt", "above"),
    "greater_than_equal": ("ge", "at least"),
    "less_than": ("lt", "below"),
    "less_than_equal": ("le", "at most"),
}


def record_error(found: ValidationError, root: type[BaseModel]) -> RecordError:
    """Return the one error of a refused record: its path, what is wrong, what to do.

    A misspelt key is named before the key that is missing because of it; otherwise the first one in the file.
    Source: common practice, no source.
    """
    errors = found.errors(include_url=False)
    chosen = _chosen(errors, root)
    message, remedy, place = _told(chosen, root)
    more = len(errors) - 1
    if more:
        remedy += f" ({more} more {'error follows' if more == 1 else 'errors follow'}.)"
    return RecordError(json_path(place), message, remedy)


def _chosen(errors: Sequence[ErrorDetails], root: type[BaseModel]) -> ErrorDetails:
    first = errors[0]
    if first["type"] == "missing":
        for other in errors[1:]:
            twin = other["type"] == "extra_forbidden" and other["loc"][:-1] == first["loc"][:-1]
            if twin and _nearest_key(other, root) == first["loc"][-1]:
                return other
    return first


def _told(error: ErrorDetails, root: type[BaseModel]) -> tuple[str, str, tuple[str | int, ...]]:
    kind, context = error["type"], error.get("ctx", {})
    place = place_without_tags(error["loc"])
    if kind == "flueproof":
        return context["message"], context["remedy"], (*place, *context["at"])
    if kind == "missing":
        return f"the key {place[-1]!r} is missing.", f"Add it: {_meaning(error, root)}", place
    if kind == "extra_forbidden":
        return (*_unknown_key(error, root), place)
    if kind == "union_tag_not_found":
        return _no_kind(error["input"], place)
    if kind == "union_tag_invalid":
        return (*_unknown_kind(context["tag"], context["expected_tags"]), (*place, "kind"))
    if kind in {"literal_error", "enum"}:
        return (*_not_allowed(error), place)
    return (*_wrong_value(error, root), place)


def _unknown_key(error: ErrorDetails, root: type[BaseModel]) -> tuple[str, str]:
    model = model_at(root, error["loc"][:-1])
    known = sorted(model.model_fields) if model is not None else []
    nearest = _nearest_key(error, root)
    remedy = f"Remove it; known here: {', '.join(known)}." if nearest is None else f"Did you mean {nearest!r}?"
    return f"the key {_short(error['loc'][-1])} is not known here.", remedy


def _nearest_key(error: ErrorDetails, root: type[BaseModel]) -> str | None:
    model = model_at(root, error["loc"][:-1])
    return nearest_word(error["loc"][-1], () if model is None else model.model_fields)


def _no_kind(given: Any, place: tuple[str | int, ...]) -> tuple[str, str, tuple[str | int, ...]]:
    if not isinstance(given, dict):
        return f"{_short(given)} stands where an object in braces must stand.", "Write { and the key kind first.", place
    mistyped = nearest_word("kind", (key for key in given if key not in {"id", "by", "at"}))
    if mistyped is not None:
        return f"the key {_short(mistyped)} is not known here.", "Did you mean 'kind'?", (*place, mistyped)
    return "the key 'kind' is missing.", "Add it: it says what this is, like test-gas.", (*place, "kind")


def _unknown_kind(given: str, expected: str) -> tuple[str, str]:
    kinds = [kind.strip("'") for kind in expected.split(", ")]
    close = nearest_word(given, kinds)
    remedy = f"Did you mean {close!r}? " if close else ""
    return f"the kind {_short(given)} is not known here.", f"{remedy}Known: {', '.join(kinds)}."


def _not_allowed(error: ErrorDetails) -> tuple[str, str]:
    expected = str(error.get("ctx", {}).get("expected", ""))
    allowed = [word.strip("'") for word in expected.replace(" or ", ", ").split(", ")]
    given = error["input"]
    close = nearest_word(given, allowed)
    remedy = f"Did you mean {close!r}?" if close is not None and len(allowed) > 1 else f"Write {expected}."
    return f"{_short(given)} is not allowed here; allowed: {', '.join(allowed)}.", remedy


def _wrong_value(error: ErrorDetails, root: type[BaseModel]) -> tuple[str, str]:
    kind, context, given = error["type"], error.get("ctx", {}), error["input"]
    meaning = f"Enter {_meaning(error, root)}"
    if kind in _OBJECT:
        return f"{_short(given)} stands where {_EXPECTED[kind]} must stand.", _object_of(error, root)
    if kind in _EXPECTED:
        return f"{_short(given)} stands where {_EXPECTED[kind]} must stand.", meaning
    if kind in _COMPARED:
        key, words = _COMPARED[kind]
        return f"{_short(given)} is not {words} {context[key]:g}.", meaning
    if kind == "finite_number":
        return "the number is not finite (NaN, Infinity or too large).", meaning
    if kind in {"too_short", "string_too_short"}:
        return f"this is empty; at least {context.get('min_length', 1)} must stand here.", meaning
    if kind == "string_too_long":
        return f"the text has {len(given)} characters; at most {context['max_length']} are allowed.", "Shorten it."
    if kind == "string_unicode":
        return "the text holds half of a character pair, which is no character.", meaning
    if kind == "string_pattern_mismatch":
        return f"{_short(given)} has the wrong form.", meaning
    return f"{_short(given)} is not valid: {error['msg'].lower()}.", meaning


def _object_of(error: ErrorDetails, root: type[BaseModel]) -> str:
    model = model_at(root, error["loc"])
    if model is None and error["loc"][0] in {"steps", "references"} and len(error["loc"]) == 2:
        return "Write an object whose key kind says what it is."
    if model is None:
        return f"Enter {_meaning(error, root)}"
    needed = [name for name, field in model.model_fields.items() if field.is_required()]
    return f"Write an object with the keys {', '.join(needed or model.model_fields)}."


def _meaning(error: ErrorDetails, root: type[BaseModel]) -> str:
    field = field_at(root, error["loc"])
    if field is None or field.description is None:
        return "what the format asks for here (flueproof schema prints it)."
    text = field.description.replace("\n", " ")
    return text[0].lower() + text[1:] if text[1:2].islower() or text[1:2] == " " else text


def _short(given: Any) -> str:
    """Say what was given in a few words, however large it is."""
    if given is None:
        return "null"
    if isinstance(given, bool):
        return "true" if given else "false"
    if isinstance(given, dict):
        return "an object"
    if isinstance(given, list | tuple):
        return "a list"
    if isinstance(given, int) and given.bit_length() > 200:
        return "a huge number"
    text = repr(given)
    return text if len(text) <= 60 else f"{text[:57]}...{text[0] if isinstance(given, str) else ''}"
