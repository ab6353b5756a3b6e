"""Adding a reference and changing one."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.gas_rack.forms.reference import ReferenceForm
from flueproof.shop.gas_rack.presenters.bottle import kind_in_words
from flueproof.shop.records.models import Reference
from flueproof.shop.records.people.rights import requires

KINDS = ("test-gas", "thermometer", "manometer", "flow-meter")


@requires("change-gas")
@require_GET
def choose_kind(request: HttpRequest) -> HttpResponse:
    """Ask what kind of reference is new."""
    kinds = [{"kind": kind, "word": kind_in_words(kind)} for kind in KINDS]
    return render(request, "gas_rack/choose_kind.html", {"kinds": kinds})


@requires("change-gas")
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest, kind: str) -> HttpResponse:
    """Add a reference of a kind."""
    if kind not in KINDS:
        raise Http404
    form = ReferenceForm(request.POST or None, kind=kind, shop=the_shop())
    if form.is_valid():
        row = form.save_seen(request.user)
        if row is not None:
            messages.success(request, f"{row.code} is on the rack.")
            return redirect("gas_rack:reference", code=row.code)
    context = {"form": form, "kind": kind, "word": kind_in_words(kind), "reference": None}
    return render(request, "gas_rack/reference_form.html", context, status=422 if form.errors else 200)


@requires("change-gas")
@require_http_methods(["GET", "POST"])
def change(request: HttpRequest, code: str) -> HttpResponse:
    """Change a reference; what judged before keeps the values it was judged with."""
    row = get_object_or_404(Reference, code=code)
    form = ReferenceForm(request.POST or None, instance=row, kind=row.kind, shop=the_shop())
    if form.is_valid():
        saved = form.save_seen(request.user)
        if saved is not None:
            messages.success(request, "Saved.")
            return redirect("gas_rack:reference", code=saved.code)
    context = {"form": form, "kind": row.kind, "word": kind_in_words(row.kind), "reference": row}
    refused = bool(form.errors) or form.conflict is not None
    return render(request, "gas_rack/reference_form.html", context, status=422 if refused else 200)
