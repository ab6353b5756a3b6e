"""Addresses of the JSON API."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path, re_path
from django.views.decorators.csrf import csrf_exempt

from flueproof.shop.api.doors import api
from flueproof.shop.api.faults import error_answer


@csrf_exempt  # a door for programs: no cookie, nothing to change
def nothing_here(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 -- Django passes it
    """Answer for every other address below /api/ in the one shape of errors."""
    return error_answer(404, "There is nothing at this address.", "The addresses are listed at /api/v1/docs.")


urlpatterns = [path("v1/", api.urls), re_path("", nothing_here)]
