"""What every page of the House shares: the links to its rooms, and who works."""

from __future__ import annotations

from typing import Any, cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from flueproof.shop.house.presenters import house_links
from flueproof.shop.records.models import Person


def person_of(request: HttpRequest) -> Person:
    """Return the person whose request this is; the views are behind `requires`."""
    return cast("Person", request.user)


def house_page(request: HttpRequest, template: str, context: dict[str, Any], status: int = 200) -> HttpResponse:
    """Render a page of the House."""
    here = request.resolver_match.url_name if request.resolver_match else ""
    links = house_links(request.user, here or "")
    return render(request, f"house/{template}", {"rooms": links, **context}, status=status)
