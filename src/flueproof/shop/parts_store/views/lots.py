"""One lot: its age, its moves, whether it may be used, and its certificate."""

from __future__ import annotations

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_http_methods, require_safe

from flueproof.shop.parts_store.forms.moving import LotForm
from flueproof.shop.parts_store.presenters.lot import lot_row, move_rows
from flueproof.shop.parts_store.views.asked import said_and_back, sent
from flueproof.shop.records.models import PartLot
from flueproof.shop.records.people.rights import may, requires
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.ledger import Pen, serials_in
from flueproof.shop.records.stock.receiving import set_state


@requires("see-parts")
@require_http_methods(["GET", "HEAD", "POST"])
def lot(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a lot; or bar it, or make it usable again (who may change parts)."""
    row = get_object_or_404(PartLot.objects.select_related("part", "certificate"), pk=pk)
    form = LotForm(sent(request), initial={"state": row.state, "why": row.why})
    if request.method == "POST":
        if not may(request.user, "change-parts"):
            raise PermissionDenied("Your role may not change lots.")
        if form.is_valid():
            try:
                set_state(row, form.cleaned_data["state"], form.cleaned_data["why"], Pen(request.user, timezone.now()))  # type: ignore[arg-type] # signed in
            except StockError as error:
                form.add_error("why", error.words)
            else:
                return said_and_back(request, "Saved. Whoever scans the lot reads it.", "parts_store:lot", row.pk)
    there, _gone = serials_in(row)
    fitted = row.moves.filter(kind="taken", job__isnull=False).select_related("job__analyzer", "job__owner")
    context = {
        "row": lot_row(row, timezone.localdate()),
        "lot": row,
        "form": form,
        "serials": sorted(there),
        "fitted": fitted.order_by("-id")[:200],
        "moves": move_rows(row.moves.select_related("lot", "job", "by").order_by("-id")[:60]),
    }
    return render(request, "parts_store/lot.html", context, status=422 if form.errors else 200)


@requires("see-parts")
@require_safe
def certificate(request: HttpRequest, pk: int) -> HttpResponse:  # noqa: ARG001 -- Django passes it
    """Serve a lot's certificate as what it is, with nothing in it allowed to run."""
    row = get_object_or_404(PartLot.objects.select_related("certificate"), pk=pk)
    if row.certificate is None:
        raise Http404("no certificate was kept with this lot")
    answer = HttpResponse(bytes(row.certificate.content), content_type=row.certificate.media_type)
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Content-Disposition"] = (
        content_disposition_header(as_attachment=False, filename=row.certificate_name) or "inline"
    )
    return answer
