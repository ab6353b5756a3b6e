"""Fuels that the shop added to those which come with Flueproof."""

from __future__ import annotations

from django.db import models

from flueproof.shop.records.keeping.audited import Audited


class ShopFuel(Audited):
    """A fuel of the shop's own, as the TOML that the core reads; key: what commands and pages call it."""

    key = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=120)
    text = models.TextField("composition, with its source")
    in_use = models.BooleanField(default=True)

    class Meta:
        """By name."""

        ordering = ("name", "id")

    def __str__(self) -> str:
        """Return the name."""
        return self.name
