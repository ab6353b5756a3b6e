"""The work list on paper: for everybody or one person, day by day."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.promises.presenters.work_list import work_list_of
from flueproof.shop.records.people.rights import requires


@requires("see-plan")
@require_safe
def work_list(request: HttpRequest) -> HttpResponse:
    """Show who does what in which order, to be printed; `who` (a user name) for one person alone."""
    context = {"lists": work_list_of(timezone.now(), request.GET.get("who", "")[:150]), "now": timezone.now()}
    return render(request, "promises/work_list.html", context)
