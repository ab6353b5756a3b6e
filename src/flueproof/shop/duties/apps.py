"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class DutiesConfig(AppConfig):
    """Duties: what the shop owes owners when an analyzer or a reference was found wrong."""

    name = "flueproof.shop.duties"
    label = "duties"
