"""Who asks, and which job is meant."""

from __future__ import annotations

from typing import cast

from django.http import HttpRequest
from django.shortcuts import get_object_or_404

from flueproof.shop.records.models import Job, Person


def person_of(request: HttpRequest) -> Person:
    """Return the person; `requires` has let in nobody else."""
    return cast("Person", request.user)


def job_named(number: str) -> Job:
    """Return a job with owner and analyzer. Raises: Http404."""
    found: Job = get_object_or_404(Job.objects.select_related("owner", "analyzer"), number=number.replace("\0", ""))
    return found
