"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class HouseConfig(AppConfig):
    """House: people, rights, settings of the shop, tokens, webhooks."""

    name = "flueproof.shop.house"
    label = "house"
