"""The bench's first page: scan or type, and the visit opens."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.bench.errors import RecordError
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.gas.morning import why_closed
from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.acts.bringing import bring_to_bench, jobs_meant

_LONGEST = 80


@require_http_methods(["GET", "HEAD", "POST"])
@requires("work-bench")
def start(request: HttpRequest) -> HttpResponse:
    """Show the scan field and what is on the bench; a POST opens the one job that was meant, or lists several."""
    if request.method != "POST":
        return _page(request, request.GET.get("q", "")[:_LONGEST])
    text = request.POST.get("text", "")[:_LONGEST].strip()
    found = jobs_meant(text)
    chosen = request.POST.get("job", "")
    jobs = [job for job in found.jobs if job.number == chosen] if chosen else list(found.jobs)
    if len(jobs) != 1 or (found.alike and not chosen):
        return _page(request, text, status=422 if not found.jobs else 200)
    try:
        bring_to_bench(jobs[0], request.user, timezone.now(), the_shop())  # type: ignore[arg-type] # signed in
    except (RecordError, MoveRefusedError) as error:
        return _page(request, text, str(error), status=422)
    return redirect("bench:visit", number=jobs[0].number)


def _page(request: HttpRequest, text: str, wrong: str = "", status: int = 200) -> HttpResponse:
    on_bench = Job.objects.filter(state__in=("bench", "held")).select_related("owner", "analyzer").order_by("id")[:24]
    waiting = Job.objects.filter(state="arrived").select_related("owner", "analyzer").order_by("promised_on", "id")[:24]
    context = {
        "waiting": list(waiting),
        "text": text,
        "found": jobs_meant(text) if text.strip() else None,
        "wrong": wrong,
        "closed": why_closed(timezone.localdate(), the_shop()),
        "on_bench": list(on_bench),
    }
    return render(request, "bench/start.html", context, status=status)
