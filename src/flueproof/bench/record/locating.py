"""Where an error lies: JSON paths, and the model that stands at a place."""

import re
import types
from collections.abc import Sequence
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

_PLAIN_KEY = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
LONGEST_KEY_IN_A_PATH = 80
_UNIONS = (Union, types.UnionType)


def json_path(place: Sequence[str | int]) -> str:
    """Return a place as JSON path: `$.steps[2].reference`, `$.references['cyl-co-500'].k`.

    Source: RFC 9535 (JSONPath), from memory.
    """
    parts = ["$"]
    for key in place:
        if isinstance(key, int):
            parts.append(f"[{key}]")
        elif _PLAIN_KEY.fullmatch(key):
            parts.append(f".{key[:LONGEST_KEY_IN_A_PATH]}")
        else:
            shown = key[:LONGEST_KEY_IN_A_PATH].replace("\\", "\\\\").replace("'", "\\'")
            parts.append(f"['{shown.encode('unicode_escape').decode() if not shown.isprintable() else shown}']")
    return "".join(parts)


def place_without_tags(loc: Sequence[str | int]) -> tuple[str | int, ...]:
    """Return pydantic's location as keys and indexes of the JSON: without the names of union members.

    Source: common practice, no source.
    """
    place = list(loc)
    if place and place[-1] == "[key]":
        place.pop()
    tagged = len(place) > 2 and (place[0] in {"steps", "references"} or tuple(place[:2]) == ("order", "limits"))
    if tagged:
        del place[2]
    return tuple(place)


def model_at(root: type[BaseModel], loc: Sequence[str | int]) -> type[BaseModel] | None:
    """Return the model that describes the object at pydantic's location, None where none does.

    Source: common practice, no source.
    """
    annotation: Any = root
    for key in loc:
        annotation = _below(annotation, key)
    annotation = _bare(annotation)
    return annotation if isinstance(annotation, type) and issubclass(annotation, BaseModel) else None


def field_at(root: type[BaseModel], loc: Sequence[str | int]) -> FieldInfo | None:
    """Return the field at pydantic's location, or the nearest one above it; None where there is none.

    Source: common practice, no source.
    """
    for end in range(len(loc), 0, -1):
        model = model_at(root, loc[: end - 1])
        if model is not None and str(loc[end - 1]) in model.model_fields:
            return model.model_fields[str(loc[end - 1])]
    return None


def _bare(annotation: Any) -> Any:
    """Take off what only wraps: Annotated, and the None beside a single other type."""
    while True:
        arguments = [argument for argument in get_args(annotation) if argument is not type(None)]
        if get_origin(annotation) is Annotated or (get_origin(annotation) in _UNIONS and len(arguments) == 1):
            annotation = arguments[0]
        else:
            return annotation


def _below(annotation: Any, key: str | int) -> Any:
    """Go one component of pydantic's location down: into a field, an item, or the member of a union."""
    annotation = _bare(annotation)
    origin = get_origin(annotation)
    if origin in _UNIONS:
        return _member(annotation, key)
    if origin in {tuple, list}:
        return get_args(annotation)[0]
    if origin is dict:
        return get_args(annotation)[1]
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        field = annotation.model_fields.get(str(key))
        return None if field is None else field.annotation
    return None


def _member(union: Any, key: str | int) -> Any:
    members = [_bare(member) for member in get_args(union)]
    for member in members:
        if isinstance(member, type) and issubclass(member, BaseModel):
            kind = member.model_fields.get("kind")
            if kind is not None and key in get_args(kind.annotation):
                return member
    if key == "owner":
        return members[-1]
    return None
