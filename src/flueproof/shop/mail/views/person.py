"""Who asks: the signed-in person of a request, as the services take them."""

from __future__ import annotations

from typing import cast

from django.http import HttpRequest

from flueproof.shop.records.models import Person


def person_of(request: HttpRequest) -> Person:
    """Return the person; `requires` has let in nobody else."""
    return cast("Person", request.user)
