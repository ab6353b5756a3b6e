"""An analyzer: the page to read, a new one of an owner, changing one."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from flueproof.bench.errors import RecordError
from flueproof.shop.counter.forms.analyzer import AnalyzerForm
from flueproof.shop.counter.forms.controls import work_begins
from flueproof.shop.counter.presenters.analyzer_page import analyzer_page, likely_lines
from flueproof.shop.counter.views.on_file.saying import record_refused, saved_in_words
from flueproof.shop.counter.views.who import person_of
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.jobs.order_change import carry_plate
from flueproof.shop.records.models import Analyzer, Owner
from flueproof.shop.records.people.rights import requires

_TAKEN = "Somebody put this make and serial on file just now. Look for it before you save again."


@requires("see-jobs")
@require_safe
def analyzer(request: HttpRequest, pk: int) -> HttpResponse:
    """Show an analyzer: cells, what is due, its stays, history."""
    row = get_object_or_404(Analyzer.objects.select_related("owner"), pk=pk)
    return render(request, "counter/analyzer.html", analyzer_page(row, request.user))


@requires("change-owners")
@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest, pk: int) -> HttpResponse:
    """Add an analyzer of an owner; a plate is on file once, so pressing twice finds the first."""
    firm = get_object_or_404(Owner, pk=pk)
    form = AnalyzerForm(request.POST if request.method == "POST" else None, instance=Analyzer(owner=firm))
    if form.is_valid():
        try:
            with transaction.atomic():
                made: Any = form.save_seen(person_of(request))
        except IntegrityError:
            form.add_error("serial", _TAKEN)
        else:
            messages.success(request, f"{made} is on file. Add its cells, and what is due for it.")
            return redirect("counter:analyzer", pk=made.pk)
    context = {"form": work_begins(form), "owner": firm, "likely": likely_lines(form.likely)}
    return render(request, "counter/analyzer_change.html", context, status=422 if form.is_bound else 200)


@requires("change-owners")
@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, pk: int) -> HttpResponse:
    """Change plate, service rules and notes; two at once lose nothing, and open bench records take the plate."""
    row = get_object_or_404(Analyzer.objects.select_related("owner"), pk=pk)
    form = AnalyzerForm(request.POST if request.method == "POST" else None, instance=row)
    if form.is_valid():
        person = person_of(request)
        try:
            with transaction.atomic():
                saved = form.save_seen(person)
                carried = carry_plate(saved, the_shop(), person, timezone.now()) if saved is not None else []
        except RecordError as error:
            form.add_error(None, record_refused(error))
        except IntegrityError:
            form.add_error("serial", _TAKEN)
        else:
            if saved is not None:
                messages.success(request, saved_in_words(form.also_changed, carried))
                return redirect("counter:analyzer", pk=pk)
    stands = Analyzer.objects.select_related("owner").get(pk=pk)
    context = {
        "form": work_begins(form),
        "analyzer": stands,
        "owner": stands.owner,
        "likely": likely_lines(form.likely),
    }
    return render(request, "counter/analyzer_change.html", context, status=422 if form.is_bound else 200)
