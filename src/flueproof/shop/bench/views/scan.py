"""What a scanned code is, at a visit or anywhere on the bench."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, JsonResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.bench.views.on_bench import today, visit_of
from flueproof.shop.records.gas.admitting import find_by_code, refusal_of
from flueproof.shop.records.models import Reference
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.stock.finding import find
from flueproof.shop.records.stock.on_shelf import first_out
from flueproof.shop.records.stock.on_shelf import refusal_of as refusal_of_lot
from flueproof.shop.records.visits.acts.bringing import jobs_meant
from flueproof.shop.records.visits.judged import judged

_LONGEST = 80


@require_safe
@requires("work-bench")
def what_is(request: HttpRequest) -> JsonResponse:
    """Answer what a code means: {"what": "reference" | "part" | "job" | "nothing", "code", "text"}.

    More by what it is: "refused", "address", "title". job, point: at which visit, and for which point of its procedure,
    a reference would be connected.
    """
    text = request.GET.get("code", "")[:_LONGEST].strip()
    reference = find_by_code(text)
    if reference is not None:
        refused = _refusal(request, reference) if request.GET.get("job") else ""
        said = refused or f"{reference.code}: {reference.title}."
        answer = {"what": "reference", "kind": reference.kind, "code": reference.code, "text": said}
        return JsonResponse({**answer, "refused": bool(refused)})
    if request.GET.get("job") and (of_store := _of_store(request, text)) is not None:
        return JsonResponse(of_store)
    jobs = jobs_meant(text).jobs
    if jobs:
        address = f"{reverse('bench:start')}?q={jobs[0].number if len(jobs) == 1 else text}"
        return JsonResponse({"what": "job", "code": text, "text": f"{jobs[0]}", "address": address})
    return JsonResponse({"what": "nothing", "code": text, "text": f"Nothing here has the code “{text}”."})


def _of_store(request: HttpRequest, text: str) -> dict[str, Any] | None:
    """Answer for a lot or part of the store, None where the code is neither: the lot that goes out, and what it is."""
    found, analyzer, day = find(text), visit_of(request.GET["job"]).job.analyzer, timezone.localdate()
    if found.part is None:
        return None
    lot = found.lot or first_out(found.part, day)
    refused = f"No piece of {found.part} may go out." if lot is None else refusal_of_lot(lot, analyzer, day)
    said = refused or f"{found.part.title}, lot {lot}."
    answer = {"what": "part", "code": lot.code if lot else text, "title": found.part.title, "text": said}
    return {**answer, "refused": bool(refused)}


def _refusal(request: HttpRequest, reference: Reference) -> str:
    visit = visit_of(request.GET["job"])
    profile = judged(visit, today()).profile
    wanted = request.GET.get("point", "")
    point = next((one for one in profile.points if one.id == wanted), None)
    return refusal_of(reference, point=point, profile=profile, day=today())
