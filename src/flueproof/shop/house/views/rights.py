"""The rights table, for everybody who works here."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from flueproof.shop.house.presenters import right_rows, role_words
from flueproof.shop.house.views.rendering import house_page
from flueproof.shop.records.people.rights import requires


@requires("see-jobs")
@require_safe
def rights(request: HttpRequest) -> HttpResponse:
    """Show who may do what."""
    return house_page(request, "rights.html", {"roles": role_words(), "rows": right_rows()})
