"""The event rows of a visit for reading: position, what, who, when, the beginning of the hash."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime

from flueproof.shop.bench.presenters.log import KIND_WORDS, words_of
from flueproof.shop.records.models import Visit
from flueproof.shop.records.visits.projection import HEAD, REFERENCE


@dataclass(frozen=True, slots=True)
class EventRow:
    """One row; body: its JSON for reading."""

    position: int
    what: str
    text: str
    at: datetime
    by: str
    hash: str
    before: str
    body: str


def event_rows(visit: Visit) -> list[EventRow]:
    """Return the rows of a visit in order."""
    rows = []
    for event in visit.events.select_related("by").order_by("position"):
        content = json.loads(event.body)
        if event.kind == HEAD:
            what, text = "Head", "shop, owner, order, analyzer"
        elif event.kind == REFERENCE:
            what, text = "Reference", content["id"]
        else:
            what, text = KIND_WORDS[content["kind"]], words_of(content)
        rows.append(
            EventRow(
                event.position,
                what,
                text,
                event.at,
                event.by.name_on_papers,
                event.hash,
                event.previous_hash,
                json.dumps(content, indent=1, ensure_ascii=False),
            )
        )
    return rows
