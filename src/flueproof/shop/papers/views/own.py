"""An owner's own papers."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.papers.at_work import person_of
from flueproof.shop.papers.presenters.kinds import called
from flueproof.shop.records.issuing.listing import issued_papers, papers_seen_by
from flueproof.shop.records.people.rights import OWNER, requires


@require_safe
@requires("see-own-papers")
def own_papers(request: HttpRequest) -> HttpResponse:
    """List an owner's papers, newest first; the shop's people go to the whole list."""
    person = person_of(request)
    if person.role != OWNER:
        return redirect("papers:list")
    before = request.GET.get("before", "")
    key = int(before) if before.isdecimal() and len(before) < 18 else None
    page = issued_papers(papers_seen_by(person), "", key, timezone.localdate())
    rows = [(paper, called(paper), f"{paper.kind}.pdf") for paper in page.papers]
    return render(request, "papers/own.html", {"rows": rows, "older": page.older, "first": key is None})
