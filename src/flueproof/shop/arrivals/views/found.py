"""The box that an address names, and who asks."""

from __future__ import annotations

from typing import cast

from django.http import Http404, HttpRequest
from django.shortcuts import get_object_or_404

from flueproof.shop.records.models import Arrival, Job, Person

_LARGEST = 2**63 - 1


def box_numbered(pk: int) -> Arrival:
    """Return a box with its job. Raises: Http404."""
    if pk > _LARGEST:
        raise Http404("no such box")
    rows = Arrival.objects.select_related("job__owner", "job__analyzer", "analyzer", "received_by")
    found: Arrival = get_object_or_404(rows, pk=pk)
    return found


def job_numbered(number: str) -> Job:
    """Return a job with owner and analyzer. Raises: Http404."""
    rows = Job.objects.select_related("owner", "analyzer")
    found: Job = get_object_or_404(rows, number=number.replace("\0", "")[:20])
    return found


def person_of(request: HttpRequest) -> Person:
    """Return the person; `requires` has let in nobody else."""
    return cast("Person", request.user)
