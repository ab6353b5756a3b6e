"""Stock-taking by scanner, and putting a move right."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.parts_store.forms.moving import CorrectForm, CountForm
from flueproof.shop.parts_store.presenters.lot import lot_row
from flueproof.shop.parts_store.views.asked import done, form_page, said_and_back, sent
from flueproof.shop.records.models import PartLot, StockMove
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.stock import finding
from flueproof.shop.records.stock.counting import correct as put_right
from flueproof.shop.records.stock.counting import count_lot


@requires("count-parts")
@require_http_methods(["GET", "HEAD", "POST"])
def count(request: HttpRequest) -> HttpResponse:
    """Ask for a code, then for the pieces counted; then for the next code."""
    if request.method == "POST":
        return _counted(request)
    code = request.GET.get("code", "").strip()
    found = finding.find(code) if code else finding.Found()
    lots = list(found.part.lots.select_related("part").filter(on_hand__gt=0)) if found.part and not found.lot else []
    lot = found.lot or (lots[0] if len(lots) == 1 else None)
    context: dict[str, Any] = {"code": code, "said": found.said, "part": found.part, "lots": lots, **_last(request)}
    if lot is not None:
        context |= {
            "row": lot_row(lot, timezone.localdate()),
            "form": CountForm(initial={"lot": lot.pk, "seen": lot.on_hand}),
        }
    return render(request, "parts_store/count.html", context)


def _counted(request: HttpRequest) -> HttpResponse:
    form = CountForm(request.POST)
    lot = get_object_or_404(PartLot.objects.select_related("part"), pk=_number(request.POST.get("lot")))

    def act() -> None:
        said = form.cleaned_data
        count_lot(lot, said["counted"], said["seen"], said["why"], form.pen(request))

    if done(form, act):
        change = form.cleaned_data["counted"] - form.cleaned_data["seen"]
        words = "as in the books" if not change else f"{change:+d} to the books".replace("-", "\u2212")
        messages.success(request, f"{lot.part.code}, lot {lot.code}: {form.cleaned_data['counted']}, {words}.")
        return redirect("parts_store:count")
    lot.refresh_from_db()
    typed: Any = form.data.copy()  # type: ignore[attr-defined] # a QueryDict
    typed["seen"] = str(lot.on_hand)
    form.data = typed
    context = {
        "form": form,
        "row": lot_row(lot, timezone.localdate()),
        "code": lot.code,
        "part": lot.part,
        **_last(request),
    }
    return render(request, "parts_store/count.html", context, status=422)


def _last(request: HttpRequest) -> dict[str, Any]:
    moves = StockMove.objects.filter(kind="counted", by=request.user.pk, at__date=timezone.localdate())
    return {"last": moves.select_related("lot", "part").order_by("-id")[:8]}


def _number(text: str | None) -> int:
    return int(text) if text and text.isdecimal() and len(text) < 16 else 0


@requires("change-parts")
@require_http_methods(["GET", "HEAD", "POST"])
def correct(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a wrong move right by its opposite."""
    move = get_object_or_404(StockMove.objects.select_related("part", "lot", "job"), pk=pk)
    form = CorrectForm(sent(request))

    def act() -> None:
        put_right(move, form.cleaned_data["why"], form.pen(request))

    if request.method == "POST" and done(form, act):
        return said_and_back(
            request, "Put right by a move of its own; the wrong one stays readable.", "parts_store:part", move.part_id
        )
    heading = f"Put right: {move}"
    back = reverse("parts_store:part", args=[move.part_id])
    words = "A new move undoes it. At the bench's record nothing changes: correct the step there too."
    return form_page(
        request,
        form,
        heading,
        back,
        act="Put it right",
        words=words if move.event_id else "A new move undoes it; both stay readable.",
    )
