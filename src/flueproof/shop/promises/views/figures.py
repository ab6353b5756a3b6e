"""How promises were kept lately."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.promises.presenters.kept import kept_page
from flueproof.shop.records.people.rights import requires


@requires("see-plan")
@require_safe
def kept(request: HttpRequest) -> HttpResponse:
    """Show how many jobs kept the first day that was told, and which did not."""
    return render(request, "promises/kept.html", kept_page(timezone.now()))
