"""A box leaves, arrives, comes back undelivered; money that must come first."""

from __future__ import annotations

from typing import Any, Final

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Job, Shipment
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.returning.leaving import obstacles
from flueproof.shop.records.returning.paying import hold_for_money, note_paid
from flueproof.shop.records.returning.shipping import came_back, delivered, named, said_of, ship
from flueproof.shop.returns.at_work import job_named, person_of
from flueproof.shop.returns.forms.leaving import DeliveredForm, ShipForm, WhyForm
from flueproof.shop.returns.views.acting import Act, act_on_job

_ASKED: Final = ["GET", "HEAD", "POST"]


@requires("ship")
@require_http_methods(_ASKED)
def ship_job(request: HttpRequest, number: str) -> HttpResponse:
    """Write down carrier and number, and let the box leave."""
    return act_on_job(request, number, _SHIP, _ship_form)


def _ship_form(job: Job, posted: Any, _files: Any) -> forms.Form:
    at = job.owner.addresses.first()
    lines = [job.owner.name, *at.as_lines()] if at is not None else []
    first = {"address": job.return_address or "\n".join(lines), "carrier": job.return_carrier}
    return ShipForm(posted, initial=first, against=job.state == "to-return" and bool(obstacles(job)))


def _ship(request: HttpRequest, job: Job, form: forms.Form) -> str:
    if not isinstance(form, ShipForm):
        raise TypeError(form)
    box = ship(job, form.parcel(), person_of(request), timezone.now(), form.cleaned_data.get("why", ""))
    return f"{job.number} is on its way: {said_of(box)}."


_SHIP: Final = Act(
    "Ship it",
    "It has left",
    _ship,
    (MoveRefusedError,),
    "No gas cylinder goes into the mail, full or empty. Trap and hose travel dry.",
    "cylinder",
)


@requires("ship")
@require_POST
def box_delivered(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep that a box arrived; a job's way back closes the job."""
    box = _box(pk)
    form = DeliveredForm(request.POST)
    if not form.is_valid():
        return _again(request, box, form)
    try:
        delivered(box, form.cleaned_data["to"], person_of(request), timezone.now())
    except MoveRefusedError as error:
        form.add_error(None, f"{error}.")
        return _again(request, box, form)
    messages.success(request, f"{named(box)}: delivered.")
    return _back_to(box)


@requires("ship")
@require_POST
def box_came_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep that a box came back undelivered."""
    box = _box(pk)
    form = WhyForm(request.POST, label="Why it came back")
    if form.is_valid():
        try:
            came_back(box, form.cleaned_data["why"], person_of(request), timezone.now())
        except MoveRefusedError as error:
            form.add_error(None, f"{error}.")
        else:
            messages.success(request, f"{named(box)} is here again. Ask the owner where it goes.")
            return _back_to(box)
    return _again(request, box, form)


def _box(pk: int) -> Shipment:
    found: Shipment = get_object_or_404(
        Shipment.objects.select_related("job__owner", "job__analyzer", "loan__unit"), pk=pk
    )
    return found


def _back_to(box: Shipment) -> HttpResponse:
    """Go on where the box belongs: to the loan unit, or to the job."""
    if box.loan is not None:
        return redirect("returns:unit", box.loan.unit_id)
    return redirect("counter:job", str(box.job))


def _again(request: HttpRequest, box: Shipment, form: forms.Form) -> HttpResponse:
    act = Act("It has arrived" if isinstance(form, DeliveredForm) else "It came back", "Keep it", _ship, ())
    context = {"job": box.job, "unit": box.loan.unit if box.loan else None, "form": form, "act": act}
    return render(request, "returns/act.html", context, status=422)


@requires("quote")
@require_http_methods(_ASKED)
def paid(request: HttpRequest, number: str) -> HttpResponse:
    """Keep that the money came."""
    said = "Such as the number of the payment. The books are kept elsewhere."
    return act_on_job(
        request, number, _PAID, lambda _job, posted, _files: WhyForm(posted, label="How it was paid", help_text=said)
    )


def _paid(request: HttpRequest, job: Job, form: forms.Form) -> str:
    note_paid(job, form.cleaned_data["why"], person_of(request), timezone.now())
    return f"{job.number} is paid."


_PAID: Final = Act("It is paid", "Keep it", _paid, (MoveRefusedError,), drawing="tag")


@requires("quote")
@require_POST
def hold_payment(request: HttpRequest, number: str) -> HttpResponse:
    """Let this box go back only when it is paid."""
    job = job_named(number)
    try:
        hold_for_money(job, request.POST.get("why", "")[:500], person_of(request), timezone.now())
    except MoveRefusedError as error:
        messages.error(request, f"{error}.")
    else:
        messages.success(request, f"{number} goes back when it is paid.")
    return redirect("counter:job", number)
