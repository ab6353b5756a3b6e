"""Whether a kept paper is still what was issued."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.shop.papers.at_work import paper_of, person_of
from flueproof.shop.papers.presenters.paper import sheet_of
from flueproof.shop.records.issuing.verifying import verify_paper
from flueproof.shop.records.people.rights import requires


@require_POST
@requires("see-own-papers")
def verify(request: HttpRequest, number: str) -> HttpResponse:
    """Hash the kept bytes and judge the kept record again, and say what agrees."""
    paper, person = paper_of(request, number), person_of(request)
    found = verify_paper(paper, person, timezone.now())
    context = {
        "found": found,
        "agrees": not any(one.agrees is False for one in found),
        "untold": any(one.agrees is None for one in found),
    }
    if getattr(request, "htmx", False):
        return render(request, "papers/verified.html", {**context, "paper": paper})
    return render(request, "papers/paper.html", {**sheet_of(paper, person), **context})
