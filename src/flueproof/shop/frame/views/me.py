"""The person's own page."""

from __future__ import annotations

from typing import cast

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from flueproof.shop.frame.forms.me import MeForm
from flueproof.shop.frame.second_factor import has_second_factor
from flueproof.shop.records.models import Person


@login_required
@require_http_methods(["GET", "POST"])
def me(request: HttpRequest) -> HttpResponseBase:
    """Show and save the signed-in person's name, units and theme."""
    person = Person.objects.get(
        pk=cast("Person", request.user).pk
    )  # its own row: a refused name must not show in the head
    form = MeForm(request.POST if request.method == "POST" else None, instance=person)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, "Saved.")
        return redirect("frame:me")
    facts = {"form": form, "shown_name": str(request.user), "second_factor": has_second_factor(request.user)}
    return render(request, "frame/me.html", facts)
