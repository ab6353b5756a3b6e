"""A new bottle beside the old one on the control analyzer."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.gas_rack.forms.looks import SpanCheckForm
from flueproof.shop.gas_rack.presenters.choosing import chosen
from flueproof.shop.records.gas.control import LooksError, control_units
from flueproof.shop.records.gas.span_checks import (
    CheckRefusedError,
    channels_to_compare,
    check_new_bottle,
    old_bottles,
)
from flueproof.shop.records.models import Reference
from flueproof.shop.records.people.rights import requires
from flueproof.testgas.errors import SpanFactorError


@requires("change-gas")
@require_http_methods(["GET", "POST"])
def compare(request: HttpRequest, code: str) -> HttpResponse:
    """Read old and new on the control analyzer; when they agree the new one comes into use."""
    new = get_object_or_404(Reference, code=code, kind="test-gas")
    if new.state != "new":
        messages.info(request, f"{new.code} needs no check: it is {new.get_state_display()}.")
        return redirect("gas_rack:reference", code=new.code)
    day, asked = timezone.localdate(), request.POST or request.GET
    units, olds = control_units(), old_bottles(new, day)
    unit = chosen(units, asked.get("unit", ""))
    old = chosen(olds, asked.get("old", "") or str(new.replaces_id or ""))
    context: dict[str, Any] = {"reference": new, "units": units, "unit": unit, "olds": olds, "old": old}
    if unit is None:
        return render(request, "gas_rack/compare.html", context)
    form = SpanCheckForm(request.POST or None, new=new, old=old, channels=channels_to_compare(new, old, unit))
    if form.is_valid():
        try:
            person: Any = request.user
            found = check_new_bottle(new, old, unit, form.looks(), person, timezone.now(), day)
        except (CheckRefusedError, LooksError, SpanFactorError) as error:
            form.add_error(None, str(error))
        else:
            if found.passed:
                messages.success(request, f"{new.code} agrees and is in use from now on. {found.in_words}")
                return redirect("gas_rack:reference", code=new.code)
            context["failed"] = found
    refused = bool(form.errors) or "failed" in context
    return render(request, "gas_rack/compare.html", {**context, "form": form}, status=422 if refused else 200)
