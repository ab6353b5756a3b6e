"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class ReturnsConfig(AppConfig):
    """The way out: pack-out, shipping, other shops, loan units, quotes and prices."""

    name = "flueproof.shop.returns"
    label = "returns"
