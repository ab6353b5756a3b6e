"""The JSON Schema of the judgement, read off the very dataclasses that make it."""

from __future__ import annotations

from typing import Any, Final

_OPEN: Final = "More keys may be added in format 1; those here stay."


def judgement_schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of the judgement, format 1.

    A number that is not finite is written as null, so every number may be null.
    """
    from pydantic import TypeAdapter

    from flueproof.bench.judgement import FORMAT, Judgement

    told = _with_nulls(TypeAdapter(Judgement).json_schema(mode="serialization"))
    told["properties"]["format"] = {"const": FORMAT, "type": "string"}
    told.pop("title", None)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:flueproof:judgement:1",
        "title": "Flueproof judgement, format 1",
        "$comment": _OPEN,
        **_all_written(told),
    }


def _with_nulls(node: Any) -> Any:
    if isinstance(node, list):
        return [_with_nulls(one) for one in node]
    if not isinstance(node, dict):
        return node
    told = {key: _with_nulls(value) for key, value in node.items() if key not in {"default", "title"} or _is_map(value)}
    if told.get("type") == "number":
        told["type"] = ["number", "null"]
    if told.get("prefixItems") is not None:
        told.pop("prefixItems")
    return told


def _is_map(value: Any) -> bool:
    return isinstance(value, dict)


def _all_written(told: dict[str, Any]) -> dict[str, Any]:
    """Every field is always written, those with a default too."""
    for one in (told, *told.get("$defs", {}).values()):
        if one.get("type") == "object" and "properties" in one:
            one["required"] = list(one["properties"])
    return told
