"""The rack itself, and finding a reference by its code."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.gas_rack.presenters.bottle import bottle_of, instrument_of
from flueproof.shop.records.gas.admitting import find_by_code
from flueproof.shop.records.gas.morning import last_check
from flueproof.shop.records.models import Reference
from flueproof.shop.records.people.rights import requires


@requires("see-jobs")
@require_GET
def rack(request: HttpRequest) -> HttpResponse:
    """Show all bottles and instruments; withdrawn ones apart."""
    now, day, shop = timezone.now(), timezone.localdate(), the_shop()
    standing = list(Reference.objects.exclude(state="withdrawn").order_by("code"))
    bottles = [bottle_of(one, now, day, shop) for one in standing if one.kind == "test-gas"]
    context = {
        "bottles": sorted(bottles, key=lambda one: (one.standing.order, one.reference.code)),
        "instruments": [instrument_of(one, day) for one in standing if one.kind != "test-gas"],
        "withdrawn": Reference.objects.filter(state="withdrawn").order_by("code"),
        "morning": last_check(day),
        "today": day,
    }
    return render(request, "gas_rack/rack.html", context)


@requires("see-jobs")
@require_GET
def find(request: HttpRequest) -> HttpResponse:
    """Open the reference whose code was scanned or typed."""
    code = request.GET.get("code", "").strip()
    found = find_by_code(code)
    if found is not None:
        return redirect("gas_rack:reference", code=found.code)
    said = (
        f"No reference has the code {code[:60]}. Add it, or scan its label again." if code else "Scan or type a code."
    )
    messages.warning(request, said)
    return redirect("gas_rack:rack")
