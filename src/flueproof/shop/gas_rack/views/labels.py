"""The label with the scan code, to print and stick on."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_GET

from flueproof.papers.labels.code import code_drawing
from flueproof.shop.records.models import Reference
from flueproof.shop.records.people.rights import requires


@requires("see-jobs")
@require_GET
def label(request: HttpRequest, code: str) -> HttpResponse:
    """Show the label: code as QR and in letters, what it is, last good day."""
    row = get_object_or_404(Reference, code=code)
    drawing = mark_safe(code_drawing(row.code))  # noqa: S308 -- our own drawing; the text in it is escaped
    return render(request, "gas_rack/label.html", {"reference": row, "drawing": drawing})
