"""Finishing at the bench, and bringing a job back to it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.bench.errors import RecordError
from flueproof.shop.bench.views.on_bench import visit_of
from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.people.rights import may, requires
from flueproof.shop.records.visits.acts.bringing import back_to_bench
from flueproof.shop.records.visits.acts.finishing import finish_bench


@require_POST
@requires("work-bench")
def finish(request: HttpRequest, number: str) -> HttpResponse:
    """Move the job to the desk that signs and go there, or back to the bench page with the reason why not."""
    visit = visit_of(number)
    try:
        finish_bench(visit, request.user, timezone.now(), report=request.POST.get("report") == "yes")  # type: ignore[arg-type] # signed in
    except (RecordError, MoveRefusedError) as error:
        messages.error(request, f"Not finished: {error}".replace("$.job: ", ""))
        return redirect("bench:visit", number=number)
    messages.success(request, f"{visit.job.number} is ready to sign.")
    if may(request.user, "sign"):
        return redirect(reverse("papers:sign", args=[number]))
    return redirect("bench:start")


@require_POST
@requires("work-bench")
def back(request: HttpRequest, number: str) -> HttpResponse:
    """Bring a job that waits for its signature back to the bench."""
    visit = visit_of(number)
    try:
        back_to_bench(visit.job, request.user, timezone.now(), "back on the bench before signing")  # type: ignore[arg-type] # signed in
    except MoveRefusedError as error:
        messages.error(request, str(error))
    return redirect("bench:visit", number=number)
