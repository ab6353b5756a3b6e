"""The bench record of a visit, projected from its event rows: the same JSON as a record file, format 1."""

from __future__ import annotations

import json
from typing import Any, Final

from flueproof.bench.record.reader import record_from_json
from flueproof.bench.record.record import FORMAT, Record
from flueproof.shop.records.models import Visit

HEAD, REFERENCE, STEP = "head", "reference", "step"
PROBE_STEP: Final = {"id": "s0", "at": "2000-01-01T00:00:00+00:00", "by": "reader", "kind": "note", "text": "a probe"}
"""A step that makes a record out of a head alone, so that it can be read; it is never recorded."""


def record_tree(visit: Visit) -> dict[str, Any]:
    """Return the bench record as a JSON object; `steps` is empty before the first one."""
    return tree_of([(event.kind, event.body) for event in visit.events.order_by("position")])


def tree_of(rows: list[tuple[str, str]]) -> dict[str, Any]:
    """Return the record that (kind, body) rows amount to: the last head, all references, all steps."""
    head: dict[str, Any] = {}
    references: dict[str, Any] = {}
    steps: list[Any] = []
    for kind, body in rows:
        content = json.loads(body)
        if kind == HEAD:
            head = content
        elif kind == REFERENCE:
            references[content["id"]] = content["content"]
        else:
            steps.append(content)
    return {"format": FORMAT, **head, "references": references, "steps": steps}


def record_of(visit: Visit) -> Record | None:
    """Return the validated record, or None before the first step.

    Raises: RecordError.
    """
    tree = record_tree(visit)
    return record_from_json(tree) if tree["steps"] else None
