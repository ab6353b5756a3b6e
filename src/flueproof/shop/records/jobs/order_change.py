"""An order that is changed after the bench record was opened: the record gets a new head, the old one stays."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from flueproof.shop.records.models import Job, Person, Shop
from flueproof.shop.records.visits.events import append
from flueproof.shop.records.visits.opening import record_head
from flueproof.shop.records.visits.projection import HEAD, record_tree

_OF_THE_JOB: Final = ("order", "received")
_OF_EVENTS: Final = ("format", "references", "steps")


def carry_into_record(job: Job, shop: Shop, by: Person, now: datetime) -> bool:
    """Write order and box of the job into its latest bench record, where they differ; return whether it did.

    A signed or closed job's record is not touched. Call it inside the transaction that changed the job.
    Raises: RecordError when the record would not read any more.
    """
    visit = job.visits.order_by("-number").first()
    if visit is None or not job.is_open or job.state == "to-return" or job.papers.filter(visit=visit).exists():
        return False
    tree = record_tree(visit)
    head: dict[str, Any] = {key: value for key, value in tree.items() if key not in _OF_EVENTS}
    fresh = record_head(job, shop, now)
    changed = {key: fresh[key] for key in _OF_THE_JOB if fresh[key] != head.get(key)}
    if changed:
        append(visit, HEAD, {**head, **changed}, by, now)
    return bool(changed)
