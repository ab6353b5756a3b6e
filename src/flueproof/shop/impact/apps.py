"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class ImpactConfig(AppConfig):
    """Impact: what an error found in an analyzer did to its owner's readings."""

    name = "flueproof.shop.impact"
    label = "impact"
