"""Adding a kind of part and changing one."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from flueproof.shop.parts_store.forms.part import PartForm
from flueproof.shop.parts_store.views.asked import sent
from flueproof.shop.records.models import Part
from flueproof.shop.records.people.rights import requires


@requires("change-parts")
@require_http_methods(["GET", "HEAD", "POST"])
def add(request: HttpRequest) -> HttpResponse:
    """Add a kind of part."""
    start = {"scan_code": request.GET.get("scan_code", "")[:80]}
    form = PartForm(sent(request), initial=start)
    if form.is_valid():
        row = form.save_seen(request.user)
        if row is not None:
            messages.success(request, f"{row.code} is in the store. Receive its first lot.")
            return redirect("parts_store:part", row.pk)
    return render(
        request, "parts_store/part_form.html", {"form": form, "part": None}, status=422 if form.errors else 200
    )


@requires("change-parts")
@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a kind of part; what was fitted keeps what was known then."""
    row = get_object_or_404(Part, pk=pk)
    form = PartForm(sent(request), instance=row)
    if form.is_valid():
        saved = form.save_seen(request.user)
        if saved is not None:
            messages.success(request, "Saved.")
            return redirect("parts_store:part", saved.pk)
    refused = bool(form.errors) or form.conflict is not None
    return render(request, "parts_store/part_form.html", {"form": form, "part": row}, status=422 if refused else 200)
