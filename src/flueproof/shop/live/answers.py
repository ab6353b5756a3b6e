"""Answers of the live page: refusals in one sentence, and what they do to the page around."""

from __future__ import annotations

import json
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import NoReverseMatch, reverse
from django.utils import timezone

from flueproof.bench.errors import RecordError
from flueproof.shop.live.presenters.panel import panel_of
from flueproof.shop.live.presenters.recorded import recorded_of
from flueproof.shop.records.models import Application, Station, Visit
from flueproof.shop.records.visits.applications import running
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.looks.warming import warm_in_s


def visit_of(pk: int) -> Visit:
    """Return a visit with its job. Raises: Http404."""
    found = Visit.objects.select_related("job", "job__analyzer", "job__owner", "station").filter(pk=pk).first()
    if found is None:
        raise Http404(f"no visit {pk}")
    return found


def application_of(pk: int) -> Application:
    """Return an application with its visit and reference. Raises: Http404."""
    found: Application | None = (
        Application.objects.select_related("visit", "visit__job", "visit__job__analyzer", "visit__station", "reference")
        .filter(pk=pk)
        .first()
    )
    if found is None:
        raise Http404(f"no application {pk}")
    return found


def said(error: Exception) -> str:
    """Return an error in one or two sentences for the person at the bench."""
    if isinstance(error, RecordError):
        text = f"{error.message} {error.remedy}".strip()
        return text[:1].upper() + text[1:]
    text = str(error)
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?")) else f"{text}."


def wants_json(request: HttpRequest) -> bool:
    """Return whether a module of the page asks, not a form."""
    return "application/json" in request.headers.get("Accept", "")


def refusal(message: str, status: int = 422) -> JsonResponse:
    """Answer a module: nothing was kept, and why."""
    return JsonResponse({"error": {"message": message}}, status=status)


def panel_answer(
    request: HttpRequest,
    visit: Visit,
    *,
    refused: str = "",
    ended: Application | None = None,
    status: int = 200,
    kept: Any = None,
) -> HttpResponse:
    """Return the panel as it stands now: what runs, or nothing with what was recorded last.

    refused: a sentence on top; ended: what has just been recorded or dropped; kept: what was typed before a refusal.
    """
    application = running(visit)
    context: dict[str, Any] = {"visit": visit, "refused": refused, "kept": kept, "stations": Station.objects.all()}
    context["poll_only"] = "/live/set/" in request.headers.get("HX-Current-URL", "")  # one stream a panel is too many
    if application is not None:
        now = timezone.now()
        context["panel"] = panel_of(application, now)
        if application.gas_on_at is None and application.plan["kind"] in {"test-gas", "swap-test"}:
            context["warm_in_ms"] = int(1000 * warm_in_s(judged(visit), now))
        return render(request, "live/panel.html", context, status=status)
    if ended is not None and ended.event is not None:
        context["recorded"] = recorded_of(ended)
    return render(request, "live/nothing.html", context, status=status)


def with_news(answer: HttpResponse, news: str) -> HttpResponse:
    """Tell the page around (HX-Trigger) that something was recorded or should be loaded anew."""
    answer["HX-Trigger"] = json.dumps({news: {}})
    return answer


def back_to_bench(visit: Visit) -> HttpResponse:
    """Send a browser without scripts back to the bench page."""
    try:
        return redirect(reverse("bench:visit", args=[visit.job.number]))
    except NoReverseMatch:
        return redirect("live:follow", visit.pk)
