"""What is in the box: photos, parts against the slip, how it looks, what the owner is asked for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.shop.arrivals.forms import ConditionForm
from flueproof.shop.arrivals.presenters.in_the_box import in_the_box
from flueproof.shop.arrivals.views.found import box_numbered, person_of
from flueproof.shop.records.intake.condition import Found, PhotosKept, ask_for, keep_photos, note_found
from flueproof.shop.records.models import Arrival, Job
from flueproof.shop.records.people.rights import requires


@requires("receive-boxes")
@require_http_methods(["GET", "HEAD", "POST"])
def condition(request: HttpRequest, pk: int) -> HttpResponse:
    """Note what is in the box and how it looks."""
    arrival = box_numbered(pk)
    if arrival.job is None:
        return redirect("arrivals:box", pk=pk)
    if request.method != "POST":
        return condition_page(request, arrival)
    form = ConditionForm(request.POST, job=arrival.job)
    if not form.is_valid():
        return condition_page(request, arrival, form=form, status=422)
    said = form.cleaned_data
    found = Found(form.all_enclosed(), said["condition"], said["seen"], said["carrier"])
    job = note_found(arrival, found, person_of(request), timezone.now())
    messages.success(request, f"What is in {arrival.box} is noted with {job.number}.")
    return redirect("arrivals:condition", pk=pk)


@requires("receive-boxes")
@require_POST
def photos(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep photos; each that is refused is named with the reason, the others are kept."""
    arrival = box_numbered(pk)
    files: list[Any] = request.FILES.getlist("photos")
    kept = keep_photos(arrival, arrival.job, files, request.POST.get("words", ""), person_of(request), timezone.now())
    refused = [f"{name}: {why}" for name, why in kept.refused] or ([] if files else ["No photo came; take it again."])
    if request.htmx:  # type: ignore[attr-defined] # middleware
        return render(request, "arrivals/photos.html", _photos(arrival, kept, refused))
    if refused and arrival.job is not None:
        return condition_page(request, arrival, photos_refused=refused, status=422)
    return redirect("arrivals:condition" if arrival.job else "arrivals:box", pk=pk)


@requires("receive-boxes")
@require_POST
def ask(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask the owner for what is missing."""
    arrival = box_numbered(pk)
    if arrival.job is None:
        return redirect("arrivals:box", pk=pk)
    say_asked(request, arrival.job, request.POST.getlist("part"))
    return redirect("arrivals:condition", pk=pk)


def say_asked(request: HttpRequest, job: Job, parts: list[str]) -> None:
    """Ask the owner of a job for parts, and say what was asked."""
    asked = ask_for(job, parts, person_of(request), timezone.now())
    if asked:
        messages.success(request, f"{job.owner} is asked for: {', '.join(one.subject for one in asked)}.")
    else:
        messages.info(request, "Nothing to ask for: tick what is missing, or it was asked for already.")


def condition_page(
    request: HttpRequest,
    arrival: Arrival,
    *,
    form: ConditionForm | None = None,
    refused: str = "",
    photos_refused: Iterable[str] = (),
    status: int = 200,
) -> HttpResponse:
    """Return the page of what is in a known box; what was typed is kept."""
    job = cast("Job", arrival.job)
    initial = {"enclosed": job.enclosed, "condition": job.condition, "seen": job.accidents, "carrier": arrival.carrier}
    shown = form or ConditionForm(initial=initial, job=job)
    context = {
        "arrival": arrival,
        "job": job,
        "form": shown,
        "refused": refused,
        "photos_refused": list(photos_refused),
        **in_the_box(job, arrival, shown),
    }
    return render(request, "arrivals/condition.html", context, status=status)


def _photos(arrival: Arrival, kept: PhotosKept, refused: list[str]) -> dict[str, Any]:
    return {
        "arrival": arrival,
        "photos": list(arrival.photos.select_related("blob")),
        "photos_refused": refused,
        "just_kept": len(kept.kept),
    }
