"""The search page: one box finds all, and a scan of a whole number goes straight there."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from flueproof.shop.counter.hits import address_of_hit, hit_groups
from flueproof.shop.records.finding.searching import LONGEST_TEXT, search
from flueproof.shop.records.people.rights import requires


@requires("see-jobs")
@require_safe
def find(request: HttpRequest) -> HttpResponse:
    """Show what is found for `q`: the list alone while one types, the whole page or the one row itself for Enter."""
    typed = request.GET.get("q", "")
    found = search(typed)
    typing = bool(request.headers.get("HX-Request"))
    if found.straight is not None and not typing:
        return redirect(address_of_hit(found.straight))
    return render(
        request,
        "counter/search_found.html" if typing else "counter/search.html",
        {"q": typed, "found": found, "groups": hit_groups(found), "longest": LONGEST_TEXT},
    )
