"""Values that a person types or brings: one field at a time, a photo of the display, a logger's file."""

from __future__ import annotations

from django.core.files.uploadedfile import UploadedFile
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.readings.errors import ReadingsError
from flueproof.shop.live.answers import (
    application_of,
    back_to_bench,
    panel_answer,
    refusal,
    said,
    visit_of,
)
from flueproof.shop.live.forms import TypedForm, first_wrong, sent
from flueproof.shop.records.keeping.photos import LARGEST_FILE, PhotoError, keep_photo
from flueproof.shop.records.models import Blob, Station
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.applications import ApplicationError
from flueproof.shop.records.visits.events import SentDifferentlyError
from flueproof.shop.records.visits.looks.from_file import take_file
from flueproof.shop.records.visits.looks.typing import Typed, take_typed


@require_POST
@requires("work-bench")
def type_(request: HttpRequest, application: int) -> HttpResponse:
    """Keep one typed value and read it back in words; it is on the disk before the answer goes out."""
    running = application_of(application)
    try:
        form = TypedForm(sent(request))
    except ValueError as error:
        return refusal(said(error), 400)
    if not form.is_valid():
        return refusal(first_wrong(form))
    given = form.cleaned_data
    value = Typed(given["source"], given["sequence"], given["channel"], given["mark_s"], given["shown"], given["photo"])
    try:
        understood = take_typed(running, value, timezone.now())
    except SentDifferentlyError as error:
        return refusal(said(error), 409)
    except (ApplicationError, ReadingsError) as error:
        return refusal(said(error))
    return JsonResponse({"acknowledged": given["sequence"], "words": understood.words, "asks": understood.asks})


@require_POST
@requires("work-bench")
def photo(request: HttpRequest) -> HttpResponse:
    """Keep a photo of the display, made small and without EXIF; its hash goes with the value beside it."""
    given = request.FILES.get("photo")
    if not isinstance(given, UploadedFile):
        return refusal("No photo came; take it again.")
    if (given.size or 0) > LARGEST_FILE:
        return refusal("The photo is larger than 30 MB; take a smaller one.", 413)
    try:
        kept = keep_photo(given.read(), timezone.now())
    except PhotoError as error:
        return refusal(said(error))
    return JsonResponse({"photo": kept.sha256, "size": kept.size}, status=201)


@require_safe
@requires("see-jobs")
def photo_file(request: HttpRequest, sha256: str) -> HttpResponse:  # noqa: ARG001 -- Django passes the request
    """Show a photo that was kept."""
    found = Blob.objects.filter(sha256=sha256, media_type="image/jpeg").first()
    if found is None:
        raise Http404("no such photo")
    answer = HttpResponse(bytes(found.content), content_type="image/jpeg")
    answer["Cache-Control"] = "private, max-age=31536000, immutable"
    answer["X-Content-Type-Options"] = "nosniff"
    return answer


@require_POST
@requires("work-bench")
def file(request: HttpRequest, application: int) -> HttpResponse:
    """Take the looks of a logger's file into the running measurement."""
    running = application_of(application)
    given = request.FILES.get("file")
    on_text = request.POST.get("gas_on_s", "").strip().replace(",", ".") or "0"
    try:
        if not isinstance(given, UploadedFile):
            raise ApplicationError("Choose the logger's file first.")  # noqa: TRY301 -- one way out for all refusals
        take_file(running, given.read(), float(on_text), timezone.now())
    except (ApplicationError, ReadingsError, ValueError) as error:
        why = f"{on_text!r} is no number of seconds." if "could not convert" in str(error) else said(error)
        return panel_answer(request, running.visit, refused=why, kept=request.POST, status=422)
    return panel_answer(request, running.visit) if request.htmx else back_to_bench(running.visit)  # type: ignore[attr-defined] # middleware


@require_POST
@requires("work-bench")
def station(request: HttpRequest, visit: int) -> HttpResponse:
    """Say at which station the analyzer lies, so that its agent's readings find it; empty: none."""
    found = visit_of(visit)
    named = request.POST.get("station", "")
    found.station = Station.objects.filter(pk=int(named)).first() if named.isdigit() and len(named) < 16 else None
    found.save(update_fields=["station"])
    return panel_answer(request, found) if request.htmx else back_to_bench(found)  # type: ignore[attr-defined] # middleware
