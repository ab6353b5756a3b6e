"""The chain of hashes over a visit's event rows: one changed letter anywhere shows."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from typing import Any

from flueproof.shop.records.models import BenchEvent, Visit


def canonical_json(tree: Any) -> str:
    """Return JSON with sorted keys and no spaces, so that equal content has equal bytes."""
    return json.dumps(tree, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def event_hash(event: BenchEvent) -> str:
    """Return the SHA-256 over the row before it and all of this row that counts."""
    own = canonical_json(
        [
            event.visit_id,
            event.position,
            event.kind,
            event.body,
            event.at.astimezone(dt.UTC).isoformat(),
            event.by_id,
            event.previous_hash,
        ]
    )
    return hashlib.sha256(own.encode()).hexdigest()


def broken_links(visit: Visit) -> list[str]:
    """Return what is wrong with a visit's chain, in words with the position; empty when it holds."""
    found, before = [], ""
    for expected, event in enumerate(visit.events.order_by("position"), start=1):
        if event.position != expected:
            found.append(f"event {expected} is missing")
            break
        if event.previous_hash != before:
            found.append(f"event {event.position} does not follow the one before it")
        if event_hash(event) != event.hash:
            found.append(f"event {event.position} was changed after it was recorded")
        before = event.hash
    return found
