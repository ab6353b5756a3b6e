"""The pack-out: what was looked at, photos, and closing the box."""

from __future__ import annotations

from typing import Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from flueproof.shop.records.keeping.photos import PhotoError
from flueproof.shop.records.models import BoxPhoto, Job
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.returning.leaving import obstacles
from flueproof.shop.records.returning.pack_out import PackOutError, close_box, keep_packing, packing_of
from flueproof.shop.records.returning.photos import keep_leaving_photo, leaving_photos
from flueproof.shop.records.returning.unrepaired import tag_words
from flueproof.shop.returns.at_work import job_named, person_of
from flueproof.shop.returns.forms.packing import packed_of

_MOST_AT_ONCE: Final = 12


@requires("ship")
@require_http_methods(["GET", "HEAD", "POST"])
def pack_out(request: HttpRequest, number: str) -> HttpResponse:
    """Show the pack-out; keep what was ticked, and close the box when asked."""
    job = job_named(number)
    if request.method != "POST":
        return _shown(request, job, [])
    packing = packing_of(job)
    try:
        if not packing.done or request.POST.get("act") == "keep":
            keep_packing(job, packed_of(request.POST, packing), person_of(request))
        if request.POST.get("act") == "close":
            close_box(job, person_of(request), timezone.now())
            messages.success(request, f"{number} is packed.")
            return redirect("returns:pack-out", number)
    except PackOutError as error:
        return _shown(request, job, error.lines)
    messages.success(request, "Kept. The box is not closed yet.")
    return redirect("returns:pack-out", number)


def _shown(request: HttpRequest, job: Job, wrong: list[str]) -> HttpResponse:
    against = obstacles(job) if job.state == "to-return" else []
    context = {
        "job": job,
        "packing": packing_of(job),
        "photos": leaving_photos(job),
        "wrong": wrong,
        "against": [one for one in against if one.code != "pack-out"],
        "tag": tag_words(job),
        "is_open": job.state == "to-return",
    }
    return render(request, "returns/pack_out.html", context, status=422 if wrong else 200)


@requires("ship")
@require_POST
def add_photos(request: HttpRequest, number: str) -> HttpResponse:
    """Keep photos of the open box; one that is no photo says so, and the others are kept."""
    job, kept = job_named(number), 0
    files = request.FILES.getlist("photo")[:_MOST_AT_ONCE]
    for file in files:
        try:
            words = request.POST.get("words", "")[:200]
            keep_leaving_photo(job, file.read(), words, person_of(request), timezone.now())
            kept += 1
        except PhotoError as error:
            messages.error(request, f"{file.name}: {error}")
    if not files:
        messages.error(request, "No photo came with this; choose one or take one.")
    elif kept:
        messages.success(request, f"{kept} photo{'' if kept == 1 else 's'} kept.")
    return redirect("returns:pack-out", number)


@requires("see-jobs")
@require_safe
def photo(_request: HttpRequest, pk: int) -> HttpResponse:
    """Show one photo of a box that left."""
    row: BoxPhoto = get_object_or_404(BoxPhoto.objects.select_related("blob"), pk=pk, when="pack-out")
    answer = HttpResponse(bytes(row.blob.content), content_type="image/jpeg")
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Cache-Control"] = "private, max-age=86400"
    return answer
