"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class CounterConfig(AppConfig):
    """Counter: jobs, owners, analyzers, search and imports."""

    name = "flueproof.shop.counter"
    label = "counter"
