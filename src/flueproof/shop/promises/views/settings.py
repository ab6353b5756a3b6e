"""The settings of the promise; what a change does to open promises is shown before it is kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.frame.the_shop import forget_the_shop
from flueproof.shop.promises.forms.settings import ClosedForm, PromiseForm
from flueproof.shop.promises.presenters.settings import risky_lines, settings_page
from flueproof.shop.promises.views.who import person_of
from flueproof.shop.records.models import Shop
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.promises.plan.effects import ImpossibleChangeError, effect_of


@requires("change-shop")
@require_http_methods(["GET", "HEAD", "POST"])
def settings(request: HttpRequest) -> HttpResponseBase:
    """Show and save the calendar and what a promise means."""
    form = PromiseForm(request.POST or None, instance=Shop.here())
    extra: dict[str, Any] = {}
    if request.method == "POST" and form.is_valid():
        told = form.wanted()

        def change() -> None:
            row = Shop.here()
            for name, value in told.items():
                setattr(row, name, value)
            row.save()

        extra = asked_before(request, form, change)
        if not extra and form.save_seen(person_of(request)) is not None:
            forget_the_shop()
            messages.success(request, "Saved. Promises that were given stay as they are.")
            return redirect("promises:settings")
    return settings_answer(request, {"form": form} | extra, status=422 if form.is_bound else 200)


def asked_before(request: HttpRequest, form: Any, change: Callable[[], None]) -> dict[str, Any]:
    """Return what must be shown before a change is kept: the promises it puts at risk; nothing where it may be kept."""
    if request.POST.get("all_the_same") == "yes":
        return {}
    try:
        risky = effect_of(change, timezone.now())
    except ImpossibleChangeError as error:
        form.add_error(None, str(error))
        return {"impossible": True}
    return {"risky": risky_lines(risky), "risky_of": form} if risky else {}


def settings_answer(request: HttpRequest, context: dict[str, Any], status: int) -> HttpResponse:
    """Show the settings page with the forms that are given; the others are made fresh."""
    shown = settings_page(timezone.now()) | {
        "form": PromiseForm(instance=Shop.here()),
        "closed": ClosedForm(auto_id="closed_%s"),
    }
    return render(request, "promises/settings.html", shown | context, status=status)
