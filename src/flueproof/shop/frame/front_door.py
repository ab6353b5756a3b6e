"""The shop's bare address: an external person has no work at the counter and goes to their papers."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect

from flueproof.shop.frame.presenters.pages import first_page
from flueproof.shop.records.people.rights import OWNER


def front_door(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
    """Return the view with the way to their own first page for external people; stands before `requires`."""

    @wraps(view)
    def opened(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if request.user.is_authenticated and request.user.role == OWNER:
            return redirect(first_page(request.user))
        return view(request, *args, **kwargs)

    return opened
