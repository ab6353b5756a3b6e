"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class LiveConfig(AppConfig):
    """Live: readings coming in and traces going out."""

    name = "flueproof.shop.live"
    label = "live"
