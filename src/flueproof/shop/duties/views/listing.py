"""The duty list: who must be told of what, the calls of the day first."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.duties.presenters.duty_list import duty_list_of
from flueproof.shop.records.people.rights import requires


@requires("see-duties")
@require_safe
def duty_list(request: HttpRequest) -> HttpResponse:
    """Show the duties that the address asks for, a page at a time."""
    return render(request, "duties/list.html", duty_list_of(request.GET, timezone.now()))
