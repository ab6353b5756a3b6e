"""The page of one duty."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.duties.at_work import duty_named, person_of
from flueproof.shop.duties.presenters.duty_page import duty_context
from flueproof.shop.records.models import Duty
from flueproof.shop.records.people.rights import requires


@requires("see-duties")
@require_safe
def duty_page(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what was found, what to say, and what was done so far."""
    return page(request, duty_named(pk))


def page(request: HttpRequest, row: Duty, sent: dict[str, Any] | None = None, *, ended: bool = False) -> HttpResponse:
    """Return the page; sent: a form that was refused, by name; ended: somebody else was first."""
    context = duty_context(row, person_of(request), timezone.now(), sent or {})
    context["ended"] = ended
    status = 409 if ended else (422 if sent else 200)
    return render(request, "duties/duty.html", context, status=status)
