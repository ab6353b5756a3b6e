"""The price list."""

from __future__ import annotations

from typing import Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.keeping.history_lines import history_lines
from flueproof.shop.records.models import PriceItem
from flueproof.shop.records.money.amounts import in_words
from flueproof.shop.records.money.prices import price_list
from flueproof.shop.records.people.rights import requires
from flueproof.shop.returns.at_work import person_of
from flueproof.shop.returns.forms.quotes import PriceForm

_ASKED: Final = ["GET", "HEAD", "POST"]


@requires("quote")
@require_safe
def prices(request: HttpRequest) -> HttpResponse:
    """Show the list; lines that are no longer in use stand at its end."""
    rows = [(one, in_words(one.price, the_shop().currency)) for one in price_list(also_old=True)]
    context = {"rows": sorted(rows, key=lambda row: not row[0].in_use), "currency": the_shop().currency}
    return render(request, "returns/prices.html", context)


@requires("change-prices")
@require_http_methods(_ASKED)
def price(request: HttpRequest, pk: int | None = None) -> HttpResponse:
    """Add a line or change one; two at once lose nothing."""
    row = get_object_or_404(PriceItem, pk=pk) if pk is not None else PriceItem()
    form = PriceForm(request.POST if request.method == "POST" else None, instance=row)
    if form.is_valid():
        saved = form.save_seen(person_of(request))
        if saved is not None:
            messages.success(request, f"{saved.words}: saved. Quotes that are written keep their price.")
            return redirect("returns:prices")
    history = history_lines(row) if pk is not None else []
    context = {"form": form, "item": row if pk is not None else None, "history": history}
    return render(request, "returns/price.html", context, status=422 if form.is_bound else 200)
