"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class ApiConfig(AppConfig):
    """The JSON API."""

    name = "flueproof.shop.api"
    label = "api"
