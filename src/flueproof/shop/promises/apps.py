"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class PromisesConfig(AppConfig):
    """Promises: the calendar, the plan of the bench, what can be done by when."""

    name = "flueproof.shop.promises"
    label = "promises"
