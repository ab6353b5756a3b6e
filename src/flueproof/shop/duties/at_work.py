"""What the views of this page begin with: the duty or finding that an address names, and who asks."""

from __future__ import annotations

from typing import cast

from django.http import HttpRequest
from django.shortcuts import get_object_or_404

from flueproof.shop.records.models import Duty, Person, ReferenceFinding

SHOWN = ("owner", "analyzer", "visit__job", "finding__reference")


def duty_named(pk: int) -> Duty:
    """Return a duty with what its page shows. Raises: Http404."""
    found: Duty = get_object_or_404(Duty.objects.select_related(*SHOWN), pk=pk)
    return found


def finding_named(pk: int) -> ReferenceFinding:
    """Return a finding with its reference. Raises: Http404."""
    found: ReferenceFinding = get_object_or_404(ReferenceFinding.objects.select_related("reference", "by"), pk=pk)
    return found


def person_of(request: HttpRequest) -> Person:
    """Return the person; `requires` has let in nobody else."""
    return cast("Person", request.user)
