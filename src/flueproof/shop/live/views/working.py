"""A measurement from begin to end: begun, gas on, recorded or dropped."""

from __future__ import annotations

from datetime import timedelta

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.bench.errors import RecordError
from flueproof.shop.frame.forms.pressure import gauge_unit
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.live.answers import (
    application_of,
    back_to_bench,
    panel_answer,
    refusal,
    said,
    visit_of,
    wants_json,
    with_news,
)
from flueproof.shop.live.forms import BeginForm, first_wrong, sent
from flueproof.shop.records.models import Application, Visit
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.applications import (
    ApplicationError,
    drop_application,
    finish_application,
    mark_gas_on,
)
from flueproof.shop.records.visits.looks.beginning import begin_wanted

_LONGEST_AGO_S = 3600.0


@require_POST
@requires("work-bench")
def begin(request: HttpRequest, visit: int | None = None) -> HttpResponse:
    """Begin a measurement with what was scanned, or say why it may not be."""
    try:
        given = sent(request)
    except ValueError as error:
        return refusal(said(error), 400)
    named = str(visit if visit is not None else given.get("visit", ""))
    found = visit_of(int(named) if named.isdigit() and len(named) < 16 else 0)
    form = BeginForm(given, gauge_in=gauge_unit(the_shop()))
    if not form.is_valid():
        return _not_begun(request, found, first_wrong(form))
    try:
        made = begin_wanted(found, form.wanted(), request.user, timezone.now(), the_shop())  # type: ignore[arg-type] # signed in
    except ApplicationError as error:
        return _not_begun(request, found, said(error))
    if wants_json(request):
        return JsonResponse({"application": made.pk}, status=201)
    return panel_answer(request, found) if request.htmx else back_to_bench(found)  # type: ignore[attr-defined] # middleware


def _not_begun(request: HttpRequest, visit: Visit, why: str) -> HttpResponse:
    if wants_json(request):
        return refusal(why)
    return panel_answer(request, visit, refused=why, status=422)


@require_POST
@requires("work-bench")
def gas_on(request: HttpRequest, application: int) -> HttpResponse:
    """Start the timer; `ago_s` says how long ago the key was pressed when the network was away since."""
    running = application_of(application)
    try:
        given = sent(request)
        ago_s = float(given.get("ago_s") or 0.0)
    except (ValueError, TypeError):
        return refusal("How long ago the gas came on is no number.", 400)
    now = timezone.now()
    at = max(now - timedelta(seconds=min(max(ago_s, 0.0), _LONGEST_AGO_S)), running.began_at)
    try:
        mark_gas_on(running, at)
    except ApplicationError as error:
        return _refused(request, running, said(error))
    if wants_json(request):
        on = running.gas_on_at or at
        return JsonResponse({"on_for_ms": max(0, int((now - on).total_seconds() * 1000))})
    return panel_answer(request, running.visit) if request.htmx else back_to_bench(running.visit)  # type: ignore[attr-defined] # middleware


@require_POST
@requires("work-bench")
def finish(request: HttpRequest, application: int) -> HttpResponse:
    """Record the measurement; a second press shows the same."""
    running = application_of(application)
    try:
        event = finish_application(running, request.user, timezone.now())  # type: ignore[arg-type] # signed in
    except (ApplicationError, RecordError) as error:
        return _refused(request, running, said(error))
    if wants_json(request):
        return JsonResponse({"position": event.position})
    if not request.htmx:  # type: ignore[attr-defined] # middleware
        return back_to_bench(running.visit)
    return with_news(panel_answer(request, running.visit, ended=running), "flueproof:recorded")


@require_POST
@requires("work-bench")
def drop(request: HttpRequest, application: int) -> HttpResponse:
    """End the measurement without a step, with the reason."""
    running = application_of(application)
    try:
        why = str(sent(request).get("why", ""))
        drop_application(running, why, request.user, timezone.now())  # type: ignore[arg-type] # signed in
    except (ApplicationError, RecordError) as error:
        return _refused(request, running, said(error))
    except ValueError as error:
        return refusal(said(error), 400)
    if wants_json(request):
        return JsonResponse({"dropped": running.pk})
    if not request.htmx:  # type: ignore[attr-defined] # middleware
        return back_to_bench(running.visit)
    return with_news(panel_answer(request, running.visit, ended=running), "flueproof:recorded")


def _refused(request: HttpRequest, application: Application, why: str) -> HttpResponse:
    if wants_json(request):
        return refusal(why)
    return panel_answer(request, application.visit, refused=why, kept=request.POST, status=422)
