"""Who is at work on a page of the papers, and on which paper or visit."""

from __future__ import annotations

from django.http import Http404, HttpRequest
from django.shortcuts import get_object_or_404

from flueproof.shop.records.issuing.listing import papers_seen_by
from flueproof.shop.records.models import Job, Paper, Person, Visit


def person_of(request: HttpRequest) -> Person:
    """Return the signed-in person; the views' rights have let nobody else in.

    Raises: Http404 for nobody.
    """
    if not isinstance(request.user, Person):
        raise Http404
    return request.user


def paper_of(request: HttpRequest, number: str) -> Paper:
    """Return a paper that this person may see.

    Raises: Http404 for one that is not there, or that is somebody else's.
    """
    seen = papers_seen_by(person_of(request))
    return get_object_or_404(
        seen.select_related("job__owner", "job__analyzer", "visit", "signer", "amends"), number=number
    )


def visit_of(number: str) -> tuple[Job, Visit | None]:
    """Return a job and its latest visit, None where the bench has not begun.

    Raises: Http404.
    """
    job: Job = get_object_or_404(Job.objects.select_related("owner", "analyzer"), number=number)
    visit = job.visits.order_by("-number").first()
    if visit is not None:
        visit.job = job
    return job, visit
