"""What a scanned code is, at a visit or anywhere on the bench."""

from __future__ import annotations

from django.http import HttpRequest, JsonResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from flueproof.shop.bench.views.on_bench import today, visit_of
from flueproof.shop.records.gas.admitting import find_by_code, refusal_of
from flueproof.shop.records.models import Reference
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.acts.bringing import jobs_meant
from flueproof.shop.records.visits.judged import judged

_LONGEST = 80


@require_safe
@requires("work-bench")
def what_is(request: HttpRequest) -> JsonResponse:
    """Answer what a code means: {"what": "reference" | "job" | "nothing", "code", "text", "refused", "address"}.

    job, point: at which visit and for which point of its procedure a reference would be connected.
    """
    text = request.GET.get("code", "")[:_LONGEST].strip()
    reference = find_by_code(text)
    if reference is not None:
        refused = _refusal(request, reference) if request.GET.get("job") else ""
        said = refused or f"{reference.code}: {reference.title}."
        answer = {"what": "reference", "kind": reference.kind, "code": reference.code, "text": said}
        return JsonResponse({**answer, "refused": bool(refused)})
    jobs = jobs_meant(text).jobs
    if jobs:
        address = f"{reverse('bench:start')}?q={jobs[0].number if len(jobs) == 1 else text}"
        return JsonResponse({"what": "job", "code": text, "text": f"{jobs[0]}", "address": address})
    return JsonResponse({"what": "nothing", "code": text, "text": f"Nothing here has the code “{text}”."})


def _refusal(request: HttpRequest, reference: Reference) -> str:
    visit = visit_of(request.GET["job"])
    profile = judged(visit, today()).profile
    wanted = request.GET.get("point", "")
    point = next((one for one in profile.points if one.id == wanted), None)
    return refusal_of(reference, point=point, profile=profile, day=today())
