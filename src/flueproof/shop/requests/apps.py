"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class RequestsConfig(AppConfig):
    """Service requests: the public page, the phone, the box slip."""

    name = "flueproof.shop.requests"
    label = "requests"
