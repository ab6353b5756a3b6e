"""Whose a box is: what the slip says, the clues, and who it can be."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.arrivals.forms import CluesForm
from flueproof.shop.arrivals.presenters.candidates import ranking
from flueproof.shop.arrivals.presenters.slip import slip_says
from flueproof.shop.arrivals.views.found import box_numbered
from flueproof.shop.records.intake.recognising import weigh_box
from flueproof.shop.records.models import Analyzer, Arrival
from flueproof.shop.records.people.rights import may, requires


@requires("receive-boxes")
@require_safe
def box(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a box that nobody knows yet; a known one shows what is in it."""
    arrival = box_numbered(pk)
    if arrival.state == "known":
        return redirect("arrivals:condition", pk=pk)
    return box_page(request, arrival)


@requires("receive-boxes")
@require_safe
def ranked(request: HttpRequest, pk: int) -> HttpResponse:
    """Show who it can be, for clues that are being typed."""
    arrival = box_numbered(pk)
    clues = CluesForm(request.GET).clues()
    context = {"arrival": arrival, "ranking": ranking(weigh_box(clues, timezone.now()))}
    return render(request, "arrivals/ranked.html", context)


def box_page(
    request: HttpRequest,
    arrival: Arrival,
    *,
    form: CluesForm | None = None,
    refused: str = "",
    missing: Analyzer | None = None,
    status: int = 200,
) -> HttpResponse:
    """Return the page of a box; what was typed is kept. missing: an analyzer that its owner reported lost or stolen."""
    kept: dict[str, Any] = {**arrival.clues, "note": arrival.note}
    shown = form or CluesForm(initial=kept)
    clues = form.clues() if form else arrival.clues
    slip = slip_says(arrival) if arrival.state != "mistake" else None
    if not clues and slip is None and missing is None:
        shown.fields["serial"].widget.attrs["autofocus"] = True
    context = {
        "arrival": arrival,
        "form": shown,
        "slip": slip,
        "ranking": ranking(weigh_box(clues, timezone.now())),
        "refused": refused,
        "missing": missing,
        "missing_contacts": list(missing.owner.contacts.all()) if missing else [],
        "may_add": may(request.user, "change-owners"),
    }
    return render(request, "arrivals/box.html", context, status=status)
