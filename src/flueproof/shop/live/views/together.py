"""Several analyzers on one bottle: choosing them, one timer for all, recorded each on its own."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from flueproof.bench.errors import RecordError
from flueproof.shop.frame.forms.pressure import gauge_unit
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.live.answers import said
from flueproof.shop.live.forms import SetForm, first_wrong
from flueproof.shop.live.presenters.panel import panel_of
from flueproof.shop.live.presenters.recorded import recorded_of
from flueproof.shop.live.presenters.together import budget_view, left_out_view
from flueproof.shop.records.models import Application, Reference, Station, Visit
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.applications import ApplicationError, finish_application
from flueproof.shop.records.visits.looks.beginning import ON_THE_BENCH
from flueproof.shop.records.visits.looks.together import MOST, begin_together, gas_on_together, members_of

_MOST_LISTED = 60


@require_http_methods(["GET", "HEAD", "POST"])
@requires("work-bench")
def choose(request: HttpRequest) -> HttpResponse:
    """Choose two to four analyzers that lie on the bench and the bottle for them; begin them together."""
    visits = _on_the_bench()
    if request.method != "POST":
        return _choice(request, visits, {"chosen": request.GET.getlist("with")})
    kept = {"chosen": request.POST.getlist("jobs"), **request.POST.dict()}
    form = SetForm(request.POST, gauge_in=gauge_unit(the_shop()))
    if not form.is_valid():
        return _choice(request, visits, kept, first_wrong(form))
    chosen = [visit for visit in visits if visit.job.number in set(kept["chosen"])]
    try:
        group = begin_together(
            chosen,
            form.wanted(),
            form.cleaned_data["manifold_l_min"],
            request.user,  # type: ignore[arg-type] # signed in
            timezone.now(),
            the_shop(),
        )
    except ApplicationError as error:
        return _choice(request, visits, kept, said(error))
    return redirect("live:set-running", group)


def _on_the_bench() -> list[Visit]:
    """Return the latest visit of each job on the bench at which nothing runs."""
    busy = Application.objects.filter(ended_at=None).values("visit")
    rows = (
        Visit.objects.filter(job__state__in=ON_THE_BENCH)
        .exclude(pk__in=busy)
        .select_related("job", "job__analyzer", "job__owner", "station")
        .order_by("job_id", "-number")
    )
    latest: dict[int, Visit] = {}
    for visit in rows[:_MOST_LISTED]:
        latest.setdefault(visit.job_id, visit)
    return list(latest.values())


def _choice(request: HttpRequest, visits: list[Visit], kept: dict[str, Any], refused: str = "") -> HttpResponse:
    context = {
        "visits": visits,
        "kept": kept,
        "refused": refused,
        "most": MOST,
        "gauge_in": gauge_unit(the_shop()),
        "cylinders": Reference.objects.filter(kind="test-gas", state="in-use"),
    }
    return render(request, "live/set_choose.html", context, status=422 if refused else 200)


@require_safe
@requires("see-jobs")
def running(request: HttpRequest, group: str) -> HttpResponse:
    """Show a set: one timer, one budget, a column for each analyzer."""
    members = _members(group)
    now = timezone.now()
    columns: list[dict[str, Any]] = [
        {
            "visit": one.visit,
            "panel": panel_of(one, now) if one.ended_at is None else None,
            "recorded": recorded_of(one) if one.event is not None else None,
            "dropped": one.ended == "dropped",
        }
        for one in members
    ]
    context = {
        "group": group,
        "reference": members[0].reference,
        "columns": columns,
        "open": any(one.ended_at is None for one in members),
        "marks": next((column["panel"].marks for column in columns if column["panel"] is not None), ()),
        "on_for_ms": next((c["panel"].on_for_ms for c in columns if c["panel"] is not None), None),
        "on": any(one.gas_on_at is not None for one in members),
        "budget": budget_view(members, now),
        "left_out": left_out_view(members, now),
        "stations": Station.objects.all(),
        "poll_only": True,
    }
    return render(request, "live/set.html", context)


@require_safe
@requires("see-jobs")
def budget(request: HttpRequest, group: str) -> HttpResponse:
    """Return the budget of a set as it stands."""
    members = _members(group)
    context = {"group": group, "budget": budget_view(members, timezone.now())}
    context["open"] = any(one.ended_at is None for one in members)
    return render(request, "live/set_budget.html", context)


@require_POST
@requires("work-bench")
def gas_on(request: HttpRequest, group: str) -> HttpResponse:
    """Start the one timer of a set."""
    try:
        _members(group)
        gas_on_together(group, timezone.now())
    except ApplicationError as error:
        return _back(request, group, said(error))
    return redirect("live:set-running", group)


@require_POST
@requires("work-bench")
def finish(request: HttpRequest, group: str) -> HttpResponse:
    """Record all measurements of a set that still run; what cannot be recorded stays open and is named."""
    refused = []
    for one in _members(group):
        if one.ended_at is None:
            try:
                finish_application(one, request.user, timezone.now())  # type: ignore[arg-type] # signed in
            except (ApplicationError, RecordError) as error:
                refused.append(f"{one.visit.job}: {said(error)}")
    return _back(request, group, " ".join(refused))


def _members(group: str) -> list[Application]:
    found = members_of(group)
    if not found:
        raise Http404("no such set")
    return found


def _back(request: HttpRequest, group: str, refused: str) -> HttpResponse:
    if refused:
        messages.error(request, refused)
    return redirect("live:set-running", group)
