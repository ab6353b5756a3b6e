"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class ArrivalsConfig(AppConfig):
    """Boxes that came: whose they are, what is in them, what is missing."""

    name = "flueproof.shop.arrivals"
    label = "arrivals"
