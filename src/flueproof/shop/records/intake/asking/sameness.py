"""What is wanted is mostly the same for all analyzers of a request: said once, it is written to each."""

from __future__ import annotations

from typing import Any, Final

from django.db import transaction

from flueproof.shop.records.intake.asking.drafts import refuse_unless_draft, save_by
from flueproof.shop.records.models import Person, RequestedAnalyzer, ServiceRequest

WANTED: Final = (
    "service",
    "spend_up_to",
    "limits",
    "decision_rule",
    "as_found",
    "may_set_clock",
    "may_update_firmware",
    "may_clear_memory",
    "due_wanted",
    "due_months",
)


def all_the_same(request: ServiceRequest) -> bool:
    """Return True while the same is wanted for each analyzer of a request."""
    said = [_wanted(one) for one in request.analyzers.all()]
    return all(one == said[0] for one in said)


def same_for_all(first: RequestedAnalyzer, by: Person | None) -> None:
    """Write what is wanted for one analyzer of a draft to all others of it.

    Raises: RequestRefusedError when it was sent meanwhile.
    """
    with transaction.atomic():
        request = ServiceRequest.objects.select_for_update().get(pk=first.request_id)
        refuse_unless_draft(request)
        wanted = _wanted(RequestedAnalyzer.objects.get(pk=first.pk))
        for one in request.analyzers.exclude(pk=first.pk):
            if _wanted(one) != wanted:
                for name, value in wanted.items():
                    setattr(one, name, value)
                save_by(one, by)


def _wanted(one: RequestedAnalyzer) -> dict[str, Any]:
    return {name: getattr(one, name) for name in WANTED}
