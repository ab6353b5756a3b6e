"""Orders and reservations of a part."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.shop.parts_store.forms.moving import DropForm, OrderForm, ReserveForm
from flueproof.shop.parts_store.views.asked import done, pieces, said_and_back
from flueproof.shop.parts_store.views.part import part_page
from flueproof.shop.records.models import Job, Part
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.stock import asking
from flueproof.shop.records.stock.ledger import Pen


@requires("change-parts")
@require_POST
def order(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down that pieces were ordered."""
    part = get_object_or_404(Part, pk=pk)
    form = OrderForm(request.POST, prefix="order")
    if done(form, lambda: asking.order(part, form.cleaned_data["count"], form.pen(request), form.cleaned_data["why"])):
        return said_and_back(request, f"{pieces(form.cleaned_data['count'])} on order.", "parts_store:part", part.pk)
    return part_page(request, part, order=form)


@requires("change-parts")
@require_POST
def drop(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down that what is on order will not come."""
    part = get_object_or_404(Part, pk=pk)
    form = DropForm(request.POST, prefix="drop")
    if done(form, lambda: asking.drop_order(part, form.pen(request), form.cleaned_data["why"])):
        return said_and_back(request, "No longer on order.", "parts_store:part", part.pk)
    return part_page(request, part, drop=form)


@requires("change-parts")
@require_POST
def reserve(request: HttpRequest, pk: int) -> HttpResponse:
    """Reserve pieces for a repair; they stand on the picking list until they are taken."""
    part = get_object_or_404(Part, pk=pk)
    form = ReserveForm(request.POST, prefix="reserve")
    if done(
        form, lambda: asking.reserve(part, form.cleaned_data["count"], form.cleaned_data["job"], form.pen(request))
    ):
        words = f"{pieces(form.cleaned_data['count'])} reserved for {form.cleaned_data['job'].number}."
        return said_and_back(request, words, "parts_store:part", part.pk)
    return part_page(request, part, reserve=form)


@requires("change-parts")
@require_POST
def let_go(request: HttpRequest, pk: int) -> HttpResponse:
    """Let go of what is reserved for a job."""
    part = get_object_or_404(Part, pk=pk)
    job = get_object_or_404(Job, number=request.POST.get("job", ""))
    gone = asking.let_go(part, job, Pen(request.user, timezone.now()))  # type: ignore[arg-type] # signed in
    messages.success(request, f"Nothing is reserved for {job.number}." if gone is None else f"Let go for {job.number}.")
    return redirect("parts_store:part", part.pk)
