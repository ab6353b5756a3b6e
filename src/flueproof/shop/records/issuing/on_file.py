"""The head of the record beside what the shop has on file now: what differs, and taking it over by adding."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from django.db import transaction

from flueproof.shop.records.models import Job, Person, Shop, Visit
from flueproof.shop.records.visits.events import append
from flueproof.shop.records.visits.opening import record_head
from flueproof.shop.records.visits.projection import HEAD, record_tree

_TAKEN_OVER: Final[tuple[tuple[str, str, str], ...]] = (
    ("shop", "name", "Shop"),
    ("shop", "address", "Shop's address"),
    ("shop", "method", "Method"),
    ("owner", "name", "Owner"),
    ("owner", "address", "Owner's address"),
    ("order", "service", "Order"),
    ("order", "as_found", "As-found values wanted"),
    ("order", "limits", "Limits"),
    ("order", "decision_rule", "Decision rule"),
    ("order", "due", "Due date"),
    ("received", "condition", "Condition on arrival"),
    ("received", "enclosed", "Enclosed"),
    ("analyzer", "make", "Make"),
    ("analyzer", "model", "Model"),
    ("analyzer", "serial", "Serial number"),
    ("analyzer", "firmware", "Firmware"),
)


def due_date_not_agreed(job: Job, tree: dict[str, Any]) -> bool:
    """Return whether the record asks for a due date that order and owner do not (ISO/IEC 17025:2017, 7.8.4.3)."""
    wanted = bool(tree["order"].get("due", {}).get("wanted", False))
    return wanted and not (job.due_wanted and job.owner.due_agreed)


def differences_on_file(visit: Visit, tree: dict[str, Any], shop: Shop) -> list[str]:
    """Return what the record's head says otherwise than the shop's files, a line each; cells stay as they came."""
    now = _head_now(visit, tree, shop)
    return [
        f"{title}: {in_words(tree[part].get(key))} in the record, {in_words(now[part].get(key))} on file"
        for part, key, title in _TAKEN_OVER
        if _plain(part, key, tree[part].get(key)) != _plain(part, key, now[part].get(key))
    ]


def take_over(visit: Visit, by: Person, now: datetime, shop: Shop) -> bool:
    """Add a head to the record with what the shop has on file now; return whether there was anything to add.

    Raises: RecordError, with nothing written.
    """
    with transaction.atomic():
        locked = Visit.objects.select_for_update().get(pk=visit.pk)
        tree = record_tree(locked)
        if not differences_on_file(locked, tree, shop):
            return False
        append(locked, HEAD, _head_now(locked, tree, shop), by, now)
    return True


def in_words(value: Any) -> str:
    """Return a value of a record's head as a reader would say it."""
    if isinstance(value, dict) and "wanted" in value:
        rule = "to the end of the month" if value.get("rule") == "end-of-month" else "to the day"
        return f"after {value.get('months', 12)} months, {rule}" if value["wanted"] else "none"
    if isinstance(value, dict):
        return "the owner's own"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(str(item) for item in value) or "nothing"
    return str(value) if value not in (None, "") else "nothing"


def _plain(part: str, key: str, value: Any) -> Any:
    """Return a value for comparing: a due date that is not wanted has no interval."""
    if (part, key) == ("order", "due"):
        return value if value and value.get("wanted") else None
    return value or None


def _head_now(visit: Visit, tree: dict[str, Any], shop: Shop) -> dict[str, Any]:
    """Return the record's head with what is taken over from the files of today; all else stays as it was."""
    on_file = record_head(visit.job, shop, visit.opened_at)
    head = {key: value for key, value in tree.items() if key not in {"format", "references", "steps"}}
    for part, key, _ in _TAKEN_OVER:
        head[part] = {**head[part]}
        if key in on_file[part]:
            head[part][key] = on_file[part][key]
    return head
