"""The call log."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.arrivals.forms import CallForm
from flueproof.shop.arrivals.views.found import person_of
from flueproof.shop.records.intake.calls import note_call
from flueproof.shop.records.intake.scanning import read_scan
from flueproof.shop.records.models import PhoneCall
from flueproof.shop.records.people.rights import requires

_SHOWN = 50


@requires("receive-boxes")
@require_http_methods(["GET", "HEAD", "POST"])
def calls(request: HttpRequest) -> HttpResponse:
    """Show the latest calls, and note one; a box that comes later is easier to recognize by it."""
    form = CallForm(request.POST) if request.method == "POST" else CallForm()
    if form.is_valid():
        said = form.cleaned_data
        about = read_scan(said["about"])
        unit = about.analyzers[0] if len(about.analyzers) == 1 else None
        if said["about"].strip() and about.job is None and unit is None:
            form.add_error("about", "No job and no single analyzer on file reads so. Correct it, or leave it empty.")
        else:
            row = note_call(
                person_of(request),
                timezone.now(),
                caller=said["caller"],
                phone=said["phone"],
                said=said["said"],
                analyzer=unit,
                job=about.job,
            )
            messages.success(request, f"Noted{f': {row.owner}' if row.owner else ''}.")
            return redirect("arrivals:calls")
    rows = PhoneCall.objects.select_related("owner", "job", "analyzer", "by")[:_SHOWN]
    return render(request, "arrivals/calls.html", {"form": form, "calls": rows}, status=422 if form.is_bound else 200)
