"""The shop's settings."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from flueproof.shop.frame.the_shop import forget_the_shop
from flueproof.shop.house.forms.shop import ShopForm
from flueproof.shop.house.views.rendering import house_page, person_of
from flueproof.shop.records.models import Shop
from flueproof.shop.records.people.rights import requires


@requires("change-shop")
@require_http_methods(["GET", "POST"])
def settings(request: HttpRequest) -> HttpResponseBase:
    """Show and save the shop's settings."""
    form = ShopForm(request.POST or None, instance=Shop.here())
    if request.method == "POST" and form.is_valid() and form.save_seen(person_of(request)) is not None:
        forget_the_shop()
        messages.success(request, "Saved. Papers issued before stay as they are.")
        return redirect("house:shop")
    return house_page(request, "shop.html", {"form": form}, status=422 if form.is_bound else 200)
