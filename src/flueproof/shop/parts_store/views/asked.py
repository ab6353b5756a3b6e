"""Showing a form again, and saying what a move did."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from flueproof.shop.parts_store.forms.store_form import StoreForm
from flueproof.shop.records.stock.errors import StockError


def sent(request: HttpRequest) -> Any:
    """Return what a form sent, None where the page is only looked at."""
    return request.POST if request.method == "POST" else None


def done(form: StoreForm, act: Callable[[], Any]) -> bool:
    """Do what a valid form asks for and tell whether it was done; a refusal stands in the form then."""
    if not form.is_valid():
        return False
    try:
        act()
    except StockError as error:
        form.refuse(error)
        return False
    return True


def said_and_back(request: HttpRequest, words: str, to: str, *args: Any) -> HttpResponse:
    """Say what was done and go on."""
    messages.success(request, words)
    return redirect(to, *args)


def form_page(request: HttpRequest, form: Any, heading: str, back: str, **more: Any) -> HttpResponse:
    """Show a form on a page of its own; 422 where something is wrong with what was typed."""
    context = {"form": form, "heading": heading, "back": back, **more}
    return render(request, "parts_store/form.html", context, status=422 if form.errors else 200)


def pieces(count: int) -> str:
    """Return "1 piece", "3 pieces"."""
    return f"{count} piece{'s' if count != 1 else ''}"
