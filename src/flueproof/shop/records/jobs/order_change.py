"""What is changed after the bench record was opened: the record gets a new head, the old one stays."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime
from typing import Any, Final

from flueproof.shop.records.models import Analyzer, Job, Owner, Person, Shop
from flueproof.shop.records.promises.following import follow_order
from flueproof.shop.records.visits.events import append
from flueproof.shop.records.visits.opening import record_head
from flueproof.shop.records.visits.projection import HEAD, record_tree

OF_THE_JOB: Final = ("order", "received")
_OF_EVENTS: Final = ("format", "references", "steps")
_OF_THE_PLATE: Final = ("make", "model", "serial", "firmware")


def carry_into_record(job: Job, shop: Shop, by: Person, now: datetime, parts: Collection[str] = OF_THE_JOB) -> bool:
    """Write these parts of the job's head into its latest bench record, where they differ; return whether it did.

    parts: of `order`, `received`, `owner`, `due` (the part of the order that the owner agreed to) and `plate` (of the
    analyzer: its cells and profile stay as they were when the record began). A signed or closed job's record is not
    touched. Call it inside the transaction that changed the job.
    Raises: RecordError when the record would not read any more.
    """
    follow_order(job, by, now)
    visit = job.visits.order_by("-number").first()
    if visit is None or not job.is_open or job.state == "to-return" or job.papers.filter(visit=visit).exists():
        return False
    tree = record_tree(visit)
    head: dict[str, Any] = {key: value for key, value in tree.items() if key not in _OF_EVENTS}
    changed = _with(head, record_head(job, shop, now), parts)
    if changed == head:
        return False
    append(visit, HEAD, changed, by, now)
    return True


def carry_owner(owner: Owner, shop: Shop, by: Person, now: datetime) -> list[str]:
    """Write an owner's name, address and agreement into the open bench records; return the numbers of their jobs.

    Raises: RecordError.
    """
    return _carry(owner.jobs.filter(state__in=Job.OPEN), shop, by, now, ("owner", "due"))


def carry_plate(analyzer: Analyzer, shop: Shop, by: Person, now: datetime) -> list[str]:
    """Write what the plate says into the open bench records of an analyzer; return the numbers of their jobs.

    Raises: RecordError.
    """
    return _carry(analyzer.jobs.filter(state__in=Job.OPEN), shop, by, now, ("plate",))


def _carry(jobs: Any, shop: Shop, by: Person, now: datetime, parts: Collection[str]) -> list[str]:
    rows = jobs.select_related("owner", "analyzer").order_by("id")
    return [job.number for job in rows if carry_into_record(job, shop, by, now, parts)]


def _with(head: dict[str, Any], fresh: dict[str, Any], parts: Collection[str]) -> dict[str, Any]:
    """Return the head with these parts as they are now."""
    changed = {**head, **{key: fresh[key] for key in parts if key in fresh}}
    if "due" in parts:
        changed["order"] = {**changed["order"], "due": fresh["order"]["due"]}
    if "plate" in parts:
        kept = {key: value for key, value in head["analyzer"].items() if key not in _OF_THE_PLATE}
        plate = {key: fresh["analyzer"][key] for key in _OF_THE_PLATE if key in fresh["analyzer"]}
        changed["analyzer"] = {**kept, **plate}
    return changed
