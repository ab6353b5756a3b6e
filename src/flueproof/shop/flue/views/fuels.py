"""The fuels: those that are shipped, with their source, and the shop's own, which can be changed."""

from __future__ import annotations

from typing import Any, Final

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from flueproof.chemistry.errors import UnknownFuelError
from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import read_fuel, shipped_fuels
from flueproof.shop.flue.forms.fuel import FuelForm
from flueproof.shop.flue.presenters.fuel import FuelLine, beside_shipped, doubts_of, fuel_line
from flueproof.shop.records.fuels.finding import OwnFuel, fuel_by_key, own_fuel, own_fuels
from flueproof.shop.records.fuels.retiring import set_in_use
from flueproof.shop.records.keeping.history_lines import history_lines
from flueproof.shop.records.models import ShopFuel
from flueproof.shop.records.people.rights import may, requires

_ASKED: Final = ["GET", "HEAD", "POST"]
_WRONG: Final = 422


@requires("see-own-papers")
@require_safe
def fuels(request: HttpRequest) -> HttpResponse:
    """List the shop's own fuels, then the shipped ones."""
    own = [(one, _own_line(one)) for one in own_fuels(also_retired=True)]
    shipped = [fuel_line(fuel) for fuel in shipped_fuels().values()]
    return render(request, "flue/fuels.html", {"own": own, "shipped": shipped, **_rooms()})


@requires("see-own-papers")
@require_safe
def fuel(request: HttpRequest, key: str) -> HttpResponse:
    """Show one fuel with what follows from it."""
    row = ShopFuel.objects.filter(key=key).first() if key not in shipped_fuels() else None
    try:
        found = fuel_by_key(key)
    except UnknownFuelError:
        if row is None:
            raise Http404 from None
        return redirect("flue:fuel-change", key)
    history = history_lines(row) if row is not None and may(request.user, "see-history") else []
    context = {"fuel": found, "row": row, "history": history, **properties_of(found), **_rooms()}
    return render(request, "flue/fuel.html", context)


@requires("change-fuels")
@require_http_methods(_ASKED)
def fuel_new(request: HttpRequest) -> HttpResponse:
    """Write down a fuel of the shop's own."""
    return _written(request, ShopFuel())


@requires("change-fuels")
@require_http_methods(_ASKED)
def fuel_change(request: HttpRequest, key: str) -> HttpResponse:
    """Change one; of two who change it at once nobody loses anything."""
    return _written(request, get_object_or_404(ShopFuel, key=key))


@requires("change-fuels")
@require_POST
def fuel_preview(request: HttpRequest) -> HttpResponse:
    """Show what follows from what is typed so far; nothing is kept."""
    form = FuelForm(request.POST)
    context: dict[str, Any] = {}
    if form.is_valid():
        context = properties_of(read_fuel(form.cleaned_data["text"], "fuel"))
    return render(request, "flue/fuel_properties.html", context)


@requires("change-fuels")
@require_POST
def fuel_in_use(request: HttpRequest, key: str) -> HttpResponse:
    """Retire a fuel, or take it up again; a second press does nothing."""
    row = get_object_or_404(ShopFuel, key=key)
    wanted = request.POST.get("in_use") == "yes"
    if set_in_use(row, request.user, in_use=wanted):
        done = "can be chosen again" if wanted else "is retired; links and records that name it still show it"
        messages.success(request, f"{row.name} {done}.")
    return redirect("flue:fuels")


def properties_of(fuel: Fuel) -> dict[str, Any]:
    """Return what follows from a fuel, beside the shipped ones."""
    return {"line": fuel_line(fuel), "beside": beside_shipped(fuel), "doubts": doubts_of(fuel)}


def _written(request: HttpRequest, row: ShopFuel) -> HttpResponse:
    form = FuelForm(request.POST if request.method == "POST" else None, instance=row)
    if form.is_valid():
        saved = form.save_seen(request.user)
        if saved is not None:
            messages.success(request, f"{saved.name}: saved.")
            return redirect("flue:fuel", saved.key)
    context: dict[str, Any] = {"form": form, "row": row if row.pk else None, **_rooms()}
    shown = own_fuel(row).fuel if row.text and not form.is_bound else None
    if shown is not None:
        context |= properties_of(shown)
    return render(request, "flue/fuel_form.html", context, status=_WRONG if form.is_bound else 200)


def _own_line(one: OwnFuel) -> FuelLine | None:
    return None if one.fuel is None else fuel_line(one.fuel, retired=not one.row.in_use)


def _rooms() -> dict[str, Any]:
    """Return what the links of the page need."""
    page = reverse("flue:page")
    return {"view": "fuels", "links": {"figures": page, "errors": f"{page}?view=errors"}}
