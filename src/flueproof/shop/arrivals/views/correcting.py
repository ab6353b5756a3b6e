"""Boxes that stay unknown for now, and everything that was wrong: put right by adding."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.shop.arrivals.forms import CluesForm, WhyForm
from flueproof.shop.arrivals.views.condition import condition_page
from flueproof.shop.arrivals.views.found import box_numbered, person_of
from flueproof.shop.arrivals.views.recognizing import box_page
from flueproof.shop.records.intake.arrivals import (
    ArrivalRefusedError,
    entered_by_mistake,
    forget_slip,
    keep_clues,
    leave_to_be_found,
)
from flueproof.shop.records.intake.putting_back import put_back
from flueproof.shop.records.intake.recognising import weigh_box
from flueproof.shop.records.people.rights import requires


@requires("receive-boxes")
@require_POST
def aside(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep the clues and leave the box on the shelf; as a stranger's where that was pressed."""
    arrival, form = box_numbered(pk), CluesForm(request.POST)
    stranger = request.POST.get("as") == "stranger"
    if too_long := form.too_long():
        return box_page(request, arrival, form=form, refused=too_long, status=422)
    try:
        keep_clues(arrival, form.clues(), form.note_typed(), person_of(request))
        if stranger:
            weighed = weigh_box(form.clues(), timezone.now()).as_mapping()
            leave_to_be_found(arrival, form.clues(), weighed, person_of(request))
    except ArrivalRefusedError as error:
        return box_page(request, box_numbered(pk), form=form, refused=f"{error}.", status=409)
    words = "waits until its owner is found" if stranger else "is kept with what could be read"
    messages.success(request, f"{arrival.box} {words}. Write the number on it.")
    return redirect("arrivals:boxes")


@requires("receive-boxes")
@require_POST
def not_its_slip(request: HttpRequest, pk: int) -> HttpResponse:
    """Look at the box without its slip."""
    try:
        forget_slip(box_numbered(pk), person_of(request))
    except ArrivalRefusedError as error:
        return box_page(request, box_numbered(pk), refused=f"{error}.", status=409)
    return redirect("arrivals:box", pk=pk)


@requires("receive-boxes")
@require_POST
def wrong_one(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a box back that was taken for the wrong one."""
    arrival, form = box_numbered(pk), WhyForm(request.POST)
    try:
        put_back(arrival, form.cleaned_data["why"] if form.is_valid() else "", person_of(request), timezone.now())
    except ArrivalRefusedError as error:
        if arrival.job is None:
            return box_page(request, arrival, refused=f"{error}.", status=422)
        return condition_page(request, arrival, refused=f"{error}.", status=422)
    messages.success(request, f"{arrival.box} is not known again. Whose is it?")
    return redirect("arrivals:box", pk=pk)


@requires("receive-boxes")
@require_POST
def mistake(request: HttpRequest, pk: int) -> HttpResponse:
    """Say that there is no such box."""
    arrival, form = box_numbered(pk), WhyForm(request.POST)
    try:
        entered_by_mistake(arrival, form.cleaned_data["why"] if form.is_valid() else "", person_of(request))
    except ArrivalRefusedError as error:
        return box_page(request, box_numbered(pk), refused=f"{error}.", status=422)
    messages.success(request, f"{arrival.box} is struck out; its row stays.")
    return redirect("arrivals:boxes")
