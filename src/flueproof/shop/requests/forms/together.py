"""Several forms of one page are saved together or not at all."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction

from flueproof.shop.records.intake.asking.drafts import refuse_unless_draft
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Person, ServiceRequest


def all_valid(forms: Sequence[VersionedModelForm]) -> bool:
    """Return True when each form is good; all of them are looked at, so that each says what is wrong."""
    good = [form.is_valid() for form in forms]
    return all(good)


def saved_together(request: ServiceRequest, forms: Sequence[VersionedModelForm], by: Person | None) -> bool:
    """Save all forms of a draft and return True; where one meets a change of another tab nothing is written.

    Raises: RequestRefusedError when the request was sent meanwhile.
    """
    with transaction.atomic():
        refuse_unless_draft(ServiceRequest.objects.select_for_update().get(pk=request.pk))
        kept = [form.save_seen(by) is not None for form in forms]
        if not all(kept):
            transaction.set_rollback(True)
    return all(kept)
