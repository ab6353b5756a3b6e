"""A cell is replaced: the old one comes out on the day the new one goes in."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.counter.forms.analyzer import NewCellForm
from flueproof.shop.counter.forms.controls import work_begins
from flueproof.shop.counter.presenters.part_page import PARTS
from flueproof.shop.counter.views.who import person_of
from flueproof.shop.records.filing.cell_change import CellGoneError, replace_cell
from flueproof.shop.records.models import Cell
from flueproof.shop.records.people.rights import requires


@requires("change-owners")
@require_http_methods(["GET", "HEAD", "POST"])
def replace(request: HttpRequest, pk: int, row: int) -> HttpResponse:
    """Note the cell that went in where another came out; the same press twice makes one."""
    old = get_object_or_404(Cell.objects.select_related("analyzer__owner"), pk=row, analyzer=pk)
    form = NewCellForm(
        request.POST if request.method == "POST" else None,
        instance=Cell(analyzer=old.analyzer, gas=old.gas),
        initial={"fitted": timezone.localdate()},
        old=old,
    )
    if form.is_valid():
        try:
            replace_cell(old, form.save(commit=False), person_of(request))
        except CellGoneError as error:
            form.add_error(None, f"{error}.")
        else:
            messages.success(request, f"Saved. {old} stays on file with the day it came out.")
            return redirect(PARTS["cell"].address_of(old.analyzer))
    context = {"form": work_begins(form), "old": old, "analyzer": old.analyzer}
    return render(request, "counter/cell_replace.html", context, status=422 if form.is_bound else 200)
