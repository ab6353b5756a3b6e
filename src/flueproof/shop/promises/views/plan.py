"""The Promises page itself, and making the plan anew."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.promise.schedule.model import PlanError
from flueproof.shop.promises.forms.asking import AwayForm, CanForm, RoomForm
from flueproof.shop.promises.presenters.page import page_of
from flueproof.shop.promises.views.who import person_of
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.promises.planning import latest_plan, make_plan

BETTER_SECONDS = 6.0
LONGER_SECONDS = 20.0


@requires("see-plan")
@require_safe
def plan(request: HttpRequest) -> HttpResponse:
    """Show what is promised, what is at risk, what waits, and the week."""
    now = timezone.now()
    context = {
        "page": page_of(now, whole=request.GET.get("all") == "yes"),
        "can": CanForm(auto_id="can_%s", now=now),
        "away": AwayForm(auto_id="away_%s", now=now),
        "room": RoomForm(auto_id="room_%s", now=now),
    }
    return render(request, "promises/plan.html", context)


@requires("plan-work")
@require_POST
def anew(request: HttpRequest) -> HttpResponseBase:
    """Make the plan anew at once; where nothing changed, the plan stays."""
    return _made(request, 0.0)


@requires("plan-work")
@require_POST
def better(request: HttpRequest) -> HttpResponseBase:
    """Look for a better plan for some seconds; longer when that was done before."""
    last = latest_plan()
    longer = last is not None and last.found == "best-found"
    return _made(request, LONGER_SECONDS if longer else BETTER_SECONDS)


def _made(request: HttpRequest, seconds: float) -> HttpResponseBase:
    before = latest_plan()
    try:
        made = make_plan(timezone.now(), person_of(request), "asked for on the page", seconds)
    except PlanError as error:
        messages.error(request, str(error))
        return redirect("promises:plan")
    if before is not None and made.pk == before.pk:
        messages.info(request, "Nothing changed since the last plan; it stays.")
    elif made.by_id is not None and made.by_id != person_of(request).pk:
        messages.info(request, f"{made.by} made the plan at the same time; that one counts.")
    else:
        messages.success(request, f"Planned: {made.get_found_display()}.")
    return redirect("promises:plan")
