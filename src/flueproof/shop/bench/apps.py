"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class BenchConfig(AppConfig):
    """Bench: the visit as it happens."""

    name = "flueproof.shop.bench"
    label = "bench"
