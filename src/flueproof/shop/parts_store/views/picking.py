"""What is to be brought to the bench, on a sheet to print."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.stock.on_shelf import firmware_question
from flueproof.shop.records.stock.standing import picking_list


@requires("see-parts")
@require_safe
def picking(request: HttpRequest) -> HttpResponse:
    """Show the picking list, of one job where asked."""
    number = request.GET.get("job", "")
    job = get_object_or_404(Job, number=number) if number else None
    now = timezone.now()
    rows = [(one, firmware_question(one.part, one.job.analyzer)) for one in picking_list(timezone.localdate(), job)]
    return render(request, "parts_store/picking.html", {"rows": rows, "job": job, "now": now})
