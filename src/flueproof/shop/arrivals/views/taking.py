"""Taking a box as somebody's: one of the candidates, or one who was never here."""

from __future__ import annotations

import re
from typing import Any, Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.shop.arrivals.forms import CluesForm, NewcomerForm
from flueproof.shop.arrivals.presenters.newcomer import Newcomer, newcomer_of
from flueproof.shop.arrivals.views.found import box_numbered, person_of
from flueproof.shop.arrivals.views.recognizing import box_page
from flueproof.shop.records.intake.arrivals import ArrivalRefusedError, keep_clues
from flueproof.shop.records.intake.recognising import weigh_box
from flueproof.shop.records.intake.taking import (
    ReportedMissingError,
    Taken,
    take_analyzer,
    take_job,
    take_new,
    take_sold_on,
)
from flueproof.shop.records.jobs.opening import NewAnalyzer, NewOwner
from flueproof.shop.records.models import Analyzer, Arrival, Job, Owner
from flueproof.shop.records.people.rights import may, requires

_CHOICE: Final = re.compile(r"(analyzer|aside|job|again|comeback|owner|request|sender|sold)-(\d{1,18})(?:-(\d{1,18}))?")
_NEWCOMER: Final = {"owner": "owner", "request": "requested", "sender": "request"}


class ChoiceError(ArrivalRefusedError):
    """A choice that no page of ours offers, or that is gone."""


@requires("receive-boxes")
@require_POST
def take(request: HttpRequest, pk: int) -> HttpResponse:
    """Take the box as what was chosen; with one that is not on file, go on to put it there."""
    arrival, form = box_numbered(pk), CluesForm(request.POST)
    chosen = _CHOICE.fullmatch(request.POST.get("choice", ""))
    if chosen is None:
        return box_page(request, arrival, form=form, refused="Choose one of those shown.", status=422)
    if too_long := form.too_long():
        return box_page(request, arrival, form=form, refused=too_long, status=422)
    kind, first, second = chosen[1], int(chosen[2]), int(chosen[3] or 0)
    try:
        if arrival.state != "known" and "serial" in request.POST:
            arrival = keep_clues(arrival, form.clues(), form.note_typed(), person_of(request))
        if kind in _NEWCOMER:
            return redirect(f"{reverse('arrivals:newcomer', args=[pk])}?{_NEWCOMER[kind]}={first}")
        taken = _taken(request, arrival, kind, first, second)
    except ReportedMissingError as error:
        return box_page(request, arrival, form=form, missing=error.analyzer, status=409)
    except ArrivalRefusedError as error:
        return box_page(request, box_numbered(pk), form=form, refused=f"{error}.", status=422)
    return _gone_on(request, taken)


def _taken(request: HttpRequest, arrival: Arrival, kind: str, first: int, second: int) -> Taken:
    by, now = person_of(request), timezone.now()
    if kind in {"analyzer", "aside"}:
        weighed = weigh_box(arrival.clues, now).as_mapping() if arrival.clues else None
        unit = _row(Analyzer, first)
        return take_analyzer(arrival, unit, by, now, weighed=weighed, keep_aside=kind == "aside")
    if kind == "sold":
        weighed = weigh_box(arrival.clues, now).as_mapping()
        return take_sold_on(arrival, _row(Analyzer, first), _row(Owner, second), by, now, weighed)
    job = _row(Job.objects.select_related("analyzer"), first)
    if kind == "job":
        return take_job(arrival, job, by, now)
    return take_analyzer(arrival, job.analyzer, by, now, comeback_of=job if kind == "comeback" else None)


@requires("receive-boxes")
@require_http_methods(["GET", "HEAD", "POST"])
def newcomer(request: HttpRequest, pk: int) -> HttpResponse:
    """Put an analyzer on file that was never here, and its owner where the firm is new; the box is theirs."""
    arrival = box_numbered(pk)
    if arrival.state == "known":
        return redirect("arrivals:condition", pk=pk)
    who = newcomer_of(request.POST if request.method == "POST" else request.GET, arrival)
    sent = request.POST if request.method == "POST" else None
    form = NewcomerForm(sent, initial=who.initial, owner_on_file=who.owner is not None)
    may_add = may(request.user, "change-owners")
    if sent is not None and not may_add:
        form.add_error(None, "Your role does not put owners and analyzers on file. Leave the box; the counter does.")
    if form.is_valid():
        try:
            return _gone_on(request, _put_on_file(request, arrival, who, form.cleaned_data))
        except ArrivalRefusedError as error:
            form.add_error("serial" if "on file already" in str(error) else None, f"{error}.")
    context = {"arrival": arrival, "who": who, "form": form, "may_add": may_add}
    return render(request, "arrivals/newcomer.html", context, status=422 if form.is_bound else 200)


def _put_on_file(request: HttpRequest, arrival: Arrival, who: Newcomer, got: dict[str, Any]) -> Taken:
    unit = NewAnalyzer(got["make"].strip(), got["model"].strip(), got["serial"], got["profile"])
    owner = who.owner or NewOwner(got["owner_name"].strip(), got["contact"], got["phone"], got["email"])
    now = timezone.now()
    weighed = weigh_box(arrival.clues, now).as_mapping() if arrival.clues else None
    return take_new(arrival, owner, unit, person_of(request), now, weighed=weighed, requested=who.requested)


def _gone_on(request: HttpRequest, taken: Taken) -> HttpResponse:
    if taken.again:
        said = f"Another box of {taken.job.number}, which is {taken.job.get_state_display()}."
    else:
        said = f"{taken.arrival.box} is that of {taken.job.number}. Write the number on it."
    messages.success(request, said)
    return redirect("arrivals:condition", pk=taken.arrival.pk)


def _row(rows: Any, pk: int) -> Any:
    found = getattr(rows, "objects", rows).filter(pk=pk).first() if pk < 2**63 else None
    if found is None:
        raise ChoiceError("What was chosen is not on file any more. Look again")
    return found
