"""One issued paper: what it is, its files with their hashes, what happened to it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from flueproof.shop.papers.at_work import paper_of, person_of
from flueproof.shop.papers.presenters.paper import sheet_of
from flueproof.shop.records.people.rights import requires


@require_safe
@requires("see-own-papers")
def paper(request: HttpRequest, number: str) -> HttpResponse:
    """Show one paper; an owner sees only their own."""
    return render(request, "papers/paper.html", sheet_of(paper_of(request, number), person_of(request)))
