"""The list of boxes, and a new one: scanned, or without a slip."""

from __future__ import annotations

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from flueproof.shop.arrivals.forms import ScanForm
from flueproof.shop.arrivals.presenters.box_list import box_list
from flueproof.shop.arrivals.views.found import person_of
from flueproof.shop.records.intake.arrivals import ArrivalRefusedError, enter_box
from flueproof.shop.records.intake.scanning import Scan, read_scan, settles
from flueproof.shop.records.intake.taking import take_analyzer, take_job
from flueproof.shop.records.models import Arrival, Person
from flueproof.shop.records.people.rights import requires

_ENTERED, _REMEMBERED = "boxes-entered-by-page", 20


@requires("receive-boxes")
@require_safe
def boxes(request: HttpRequest) -> HttpResponse:
    """Show the boxes: those that nobody knows yet first."""
    context = {"page_id": uuid.uuid4().hex, **box_list(timezone.now())}
    return render(request, "arrivals/boxes.html", context)


@requires("receive-boxes")
@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """Enter a box: what was scanned settles whose it is, or the clues are asked for. A second press finds the first."""
    if request.method != "POST":
        asked = ScanForm(request.GET)
        box = asked.cleaned_data.get("box", "") if asked.is_valid() else ""
        return render(request, "arrivals/new.html", {"page_id": uuid.uuid4().hex, "box": box})
    form = ScanForm(request.POST)
    if not form.is_valid():
        context = {"page_id": uuid.uuid4().hex, "box": "", "wrong": "That is no scan of ours: it is too long."}
        return render(request, "arrivals/new.html", context, status=422)
    said = form.cleaned_data
    entered = request.session.get(_ENTERED, {})
    if said["page"] in entered and Arrival.objects.filter(pk=entered[said["page"]]).exists():
        return redirect("arrivals:box", pk=entered[said["page"]])
    arrival = _entered(request, read_scan(said["scan"]), said["box"], person_of(request))
    if said["page"]:
        request.session[_ENTERED] = {**dict([*entered.items()][-_REMEMBERED:]), said["page"]: arrival.pk}
    return redirect("arrivals:condition" if arrival.state == "known" else "arrivals:box", pk=arrival.pk)


def _entered(request: HttpRequest, scan: Scan, box: str, by: Person) -> Arrival:
    """Enter the box, and take it where the scan leaves no doubt."""
    now = timezone.now()
    clues = {"serial": scan.text[:60]} if scan.text and not scan.code else {}
    arrival = enter_box(by, now, slip=scan.code, clues=clues, box=box)
    try:
        if scan.job is not None and scan.job.state == "requested":
            arrival = take_job(arrival, scan.job, by, now).arrival
        elif scan.requested is not None and scan.job is None and scan.requested.analyzer is not None:
            arrival = take_analyzer(arrival, scan.requested.analyzer, by, now, requested=scan.requested).arrival
        elif (unit := settles(scan)) is not None:
            arrival = take_analyzer(arrival, unit, by, now).arrival
    except ArrivalRefusedError:
        return arrival  # its own page tells what stands in the way
    if arrival.state == "known":
        messages.success(request, f"{arrival.box} is that of {arrival.job}. Write {arrival.box} on it.")
    return arrival
