"""One reference: its certificate, papers, gas, chart and history; and what its gauge shows."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.gas_rack.forms.documents import DocumentForm
from flueproof.shop.gas_rack.forms.gauge import GaugeForm
from flueproof.shop.gas_rack.forms.withdrawing import WithdrawForm
from flueproof.shop.gas_rack.presenters.reference import reference_context
from flueproof.shop.records.gas.litres import record_gauge
from flueproof.shop.records.models import Reference
from flueproof.shop.records.people.rights import requires
from flueproof.testgas.errors import CylinderError


@requires("see-jobs")
@require_GET
def reference(request: HttpRequest, code: str) -> HttpResponse:
    """Show one reference."""
    return reference_page(request, get_object_or_404(Reference, code=code))


@requires("change-gas")
@require_POST
def gauge(request: HttpRequest, code: str) -> HttpResponse:
    """Keep what the gauge shows."""
    row = get_object_or_404(Reference, code=code, kind="test-gas")
    form = GaugeForm(request.POST, shop=the_shop(), person=request.user)
    if form.is_valid():
        try:
            record_gauge(row, form.cleaned_data["gauge"], form.cleaned_data["room"], _person(request), timezone.now())
        except CylinderError as error:
            form.add_error("gauge", str(error))
        else:
            messages.success(request, "The gauge reading is kept; the litres left are counted from it now.")
            return redirect("gas_rack:reference", code=row.code)
    return reference_page(request, row, gauge_form=form)


def reference_page(request: HttpRequest, row: Reference, **forms: Any) -> HttpResponse:
    """Return the page of a reference; `gauge_form`, `document_form`, `withdraw_form`: a form that was refused."""
    shop = the_shop()
    context = reference_context(row, timezone.now(), timezone.localdate(), shop)
    context |= {
        "gauge_form": GaugeForm(shop=shop, person=request.user),
        "document_form": DocumentForm(),
        "withdraw_form": WithdrawForm(),
        "refused": next(iter(forms), ""),
        **forms,
    }
    return render(request, "gas_rack/reference.html", context, status=422 if forms else 200)


def _person(request: HttpRequest) -> Any:
    return request.user
