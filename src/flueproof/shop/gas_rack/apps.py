"""The app of this page."""

from __future__ import annotations

from django.apps import AppConfig


class GasRackConfig(AppConfig):
    """Gas rack: cylinders, references, gas left."""

    name = "flueproof.shop.gas_rack"
    label = "gas_rack"
