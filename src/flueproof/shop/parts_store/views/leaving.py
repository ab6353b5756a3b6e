"""Parts go out, come back, or are thrown away."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.parts_store.forms.moving import AwayForm, BackForm, TakeForm
from flueproof.shop.parts_store.views.asked import done, form_page, pieces, said_and_back, sent
from flueproof.shop.records.models import PartLot
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.on_shelf import first_out
from flueproof.shop.records.stock.taking import put_back, take_out, throw_away


@requires("change-parts")
@require_http_methods(["GET", "HEAD", "POST"])
def take(request: HttpRequest) -> HttpResponse:
    """Take pieces out, for a job or for something else."""
    start = {name: request.GET.get(name, "")[:80] for name in ("code", "job")}
    form = TakeForm(sent(request), initial=start)

    def act() -> None:
        said = form.cleaned_data
        found = said["code"]
        lot = found.lot or first_out(found.part, timezone.localdate())
        if lot is None:
            raise StockError(f"No piece of {found.part.code} may go out.", "code")
        serials = (said["serial"].strip(),) if said["serial"].strip() else ()
        try:
            take_out(lot, said["count"], said["job"], form.pen(request), serials=serials, why=said["why"])
        except StockError as error:
            raise StockError(error.words, "code" if error.field == "lot" else error.field) from error

    if request.method == "POST" and done(form, act):
        part = form.cleaned_data["code"].part
        return said_and_back(
            request, f"{pieces(form.cleaned_data['count'])} of {part.code} taken out.", "parts_store:part", part.pk
        )
    return render(request, "parts_store/take.html", {"form": form}, status=422 if form.errors else 200)


@requires("change-parts")
@require_http_methods(["GET", "HEAD", "POST"])
def back(request: HttpRequest, pk: int) -> HttpResponse:
    """Put unused pieces back into their lot."""
    lot = get_object_or_404(PartLot.objects.select_related("part"), pk=pk)
    form = BackForm(sent(request))

    def act() -> None:
        said = form.cleaned_data
        serials = (said["serial"].strip(),) if said["serial"].strip() else ()
        put_back(lot, said["count"], said["job"], form.pen(request), serials=serials, why=said["why"])

    if request.method == "POST" and done(form, act):
        return said_and_back(request, "Put back.", "parts_store:lot", lot.pk)
    return form_page(
        request, form, f"Put back into lot {lot.code}", reverse("parts_store:lot", args=[lot.pk]), act="Put back"
    )


@requires("change-parts")
@require_http_methods(["GET", "HEAD", "POST"])
def away(request: HttpRequest, pk: int) -> HttpResponse:
    """Take pieces off the shelf for good."""
    lot = get_object_or_404(PartLot.objects.select_related("part"), pk=pk)
    form = AwayForm(sent(request), initial={"count": max(lot.on_hand, 1)})

    def act() -> None:
        throw_away(lot, form.cleaned_data["count"], form.pen(request), form.cleaned_data["why"])

    if request.method == "POST" and done(form, act):
        return said_and_back(request, "Off the shelf.", "parts_store:lot", lot.pk)
    caution = "Cells hold lead, acid or lye: gloves, and hazardous waste as your local rules say."
    heading = f"Take off the shelf: lot {lot.code}"
    return form_page(
        request, form, heading, reverse("parts_store:lot", args=[lot.pk]), act="Take off the shelf", caution=caution
    )
