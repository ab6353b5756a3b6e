"""Watching a visit: the panel, the stream of what is new, polling where no stream gets through, the second screen."""

from __future__ import annotations

from asgiref.sync import sync_to_async
from django.db import connections
from django.http import HttpRequest, HttpResponse, JsonResponse, StreamingHttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.live.answers import panel_answer, visit_of
from flueproof.shop.live.presenters.panel import panel_of
from flueproof.shop.live.presenters.state import state_of
from flueproof.shop.live.stream import stream_of
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.applications import running


@require_safe
@requires("see-jobs")
def panel(request: HttpRequest, visit: int) -> HttpResponse:
    """Return the panel for the bench page: what runs, or how little there is to do here."""
    answer = panel_answer(request, visit_of(visit))
    answer["Cache-Control"] = "no-store"
    return answer


@requires("see-jobs")
async def events(request: HttpRequest, visit: int) -> StreamingHttpResponse:
    """Stream what is new at a visit as server-sent events.

    The connection on which the right was looked up is given back first: the request would hold it as long as it lasts,
    and a dozen screens would leave none for anybody else.
    """
    await sync_to_async(_give_back)()
    answer = StreamingHttpResponse(
        stream_of(visit, large=request.GET.get("large") == "yes"), content_type="text/event-stream"
    )
    answer["Cache-Control"] = "no-store"
    answer["X-Accel-Buffering"] = "no"
    return answer


def _give_back() -> None:
    """Close the connections of this request; one inside a transaction belongs to whoever began it."""
    for line in connections.all(initialized_only=True):
        if not line.in_atomic_block:
            line.close()


@require_safe
@requires("see-jobs")
def poll(request: HttpRequest, visit: int) -> HttpResponse:
    """Return the same as one event of the stream; 204 while `seen` is still the latest."""
    state = state_of(visit, timezone.now(), large=request.GET.get("large") == "yes")
    if request.GET.get("seen") == state["key"]:
        return HttpResponse(status=204)
    answer = JsonResponse(state)
    answer["Cache-Control"] = "no-store"
    return answer


@require_safe
@requires("see-jobs")
def follow(request: HttpRequest, visit: int) -> HttpResponse:
    """Show the second screen: large digits and traces, nothing to press."""
    found = visit_of(visit)
    application = running(found)
    drawn = panel_of(application, timezone.now(), large=True) if application is not None else None
    return render(request, "live/follow.html", {"visit": found, "job": found.job, "panel": drawn, "large": True})
