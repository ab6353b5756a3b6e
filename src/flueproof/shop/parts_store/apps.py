"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class PartsStoreConfig(AppConfig):
    """Parts: lots, moves, counting, ordering."""

    name = "flueproof.shop.parts_store"
    label = "parts_store"
