"""A part's own page: lots, moves, its use and when to order."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.parts_store.forms.moving import DropForm, OrderForm, ReserveForm
from flueproof.shop.parts_store.forms.store_form import StoreForm
from flueproof.shop.parts_store.presenters.chart import use_chart
from flueproof.shop.parts_store.presenters.lot import lot_rows, move_rows
from flueproof.shop.parts_store.presenters.row import row_of
from flueproof.shop.records.keeping.field_words import profile_in_words
from flueproof.shop.records.models import Part
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.stock.ledger import reserved_elsewhere
from flueproof.shop.records.stock.standing import standings
from flueproof.shop.records.stock.use import watched


@requires("see-parts")
@require_safe
def part(request: HttpRequest, pk: int) -> HttpResponse:
    """Show one part."""
    return part_page(request, get_object_or_404(Part, pk=pk))


def part_page(request: HttpRequest, row: Part, **forms: StoreForm) -> HttpResponse:
    """Return a part's page, with a form that was refused in its place (`order`, `drop`, `reserve`)."""
    today = timezone.localdate()
    (standing,) = standings([row], today)
    context = {
        "part": row,
        "row": row_of(standing, today),
        "standing": standing,
        "lots": lot_rows(row.lots.select_related("part").order_by("-on_hand", "received_on"), today),
        "moves": move_rows(row.moves.select_related("lot", "job", "by", "corrects").order_by("-id")[:60]),
        "chart": use_chart(watched([row], today)[row.pk], standing.advice, today, row.title),
        "reserved": reserved_elsewhere(row, None),
        "profiles": [profile_in_words(one) for one in row.profiles],
        "order": forms.get("order")
        or OrderForm(initial={"count": standing.advice.quantity or standing.advice.usual}, prefix="order"),
        "drop": forms.get("drop") or DropForm(prefix="drop"),
        "reserve": forms.get("reserve") or ReserveForm(prefix="reserve"),
    }
    return render(
        request, "parts_store/part.html", context, status=422 if any(one.errors for one in forms.values()) else 200
    )
