"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class FlueConfig(AppConfig):
    """Flue gas: the teaching page that computes combustion, and the shop's own fuels."""

    name = "flueproof.shop.flue"
    label = "flue"
