"""What is ready to sign, and what was issued."""

from __future__ import annotations

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.papers.at_work import person_of
from flueproof.shop.papers.presenters.kinds import called
from flueproof.shop.records.issuing.listing import issued_papers, papers_seen_by, ready_to_sign
from flueproof.shop.records.people.rights import OWNER, requires


@require_safe
@requires("see-own-papers")
def paper_list(request: HttpRequest) -> HttpResponse:
    """Show the jobs that wait for a signature, then the issued papers, newest first, by key."""
    person = person_of(request)
    if person.role == OWNER:
        return redirect("papers:own")
    text, before = request.GET.get("wanted", "").strip()[:80], request.GET.get("before", "")
    key = int(before) if before.isdecimal() and len(before) < 18 else None
    page = issued_papers(papers_seen_by(person), text, key, timezone.localdate())
    older = urlencode({"before": page.older, **({"wanted": text} if text else {})}) if page.older else ""
    context = {
        "ready": ready_to_sign() if key is None and not text else [],
        "rows": [(paper, called(paper)) for paper in page.papers],
        "wanted": text,
        "first": key is None,
        "older": older,
    }
    return render(request, "papers/list.html", context)
