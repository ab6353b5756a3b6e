"""Withdrawing a reference."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.shop.gas_rack.forms.withdrawing import WithdrawForm
from flueproof.shop.gas_rack.views.reference import reference_page
from flueproof.shop.records.gas.withdrawing import withdraw
from flueproof.shop.records.models import Reference
from flueproof.shop.records.people.rights import requires


@requires("withdraw-reference")
@require_POST
def withdraw_reference(request: HttpRequest, code: str) -> HttpResponse:
    """Withdraw a reference for good, and show what it judged."""
    row = get_object_or_404(Reference, code=code)
    form = WithdrawForm(request.POST)
    if not form.is_valid():
        return reference_page(request, row, withdraw_form=form)
    withdraw(row, form.cleaned_data["why"], request.user, timezone.now())  # type: ignore[arg-type] # @requires saw to it
    messages.success(request, f"{row.code} is withdrawn. This page lists the visits that rest on it.")
    return redirect("gas_rack:judged", code=row.code)
