"""Every move in the parts store. Append-only: a mistake is put right by another move."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.models.job import Job
from flueproof.shop.records.models.parts.lot import PartLot
from flueproof.shop.records.models.parts.part import Part
from flueproof.shop.records.models.work.visit import BenchEvent


class StockMove(models.Model):
    """What changed: pieces on the shelf, pieces reserved, pieces on order.

    change, reserved, ordered: how many more (or fewer) pieces lie there, are reserved for `job`, are on order; serials:
    of the pieces, where they have one; event: the bench's step that took it; corrects: the move that this one puts
    right; source: the form that sent it, so that a second press does nothing.
    """

    KINDS: ClassVar = [
        ("received", "received"),
        ("taken", "taken out"),
        ("put-back", "put back"),
        ("counted", "counted"),
        ("thrown-away", "thrown away"),
        ("corrected", "corrected"),
        ("reserved", "reserved"),
        ("let-go", "no longer reserved"),
        ("ordered", "ordered"),
        ("order-dropped", "order dropped"),
    ]

    part = models.ForeignKey(Part, on_delete=models.PROTECT, related_name="moves")
    lot = models.ForeignKey(PartLot, null=True, on_delete=models.PROTECT, related_name="moves")
    kind = models.CharField(max_length=14, choices=KINDS)
    change = models.IntegerField(default=0)
    reserved = models.IntegerField(default=0)
    ordered = models.IntegerField(default=0)
    serials = models.JSONField(default=list)
    job = models.ForeignKey(Job, null=True, on_delete=models.PROTECT, related_name="stock_moves")
    event = models.ForeignKey(BenchEvent, null=True, on_delete=models.PROTECT, related_name="stock_moves")
    corrects = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="corrected_by")
    why = models.CharField(max_length=300, blank=True)
    source = models.CharField(max_length=60, null=True, unique=True)  # noqa: DJ001 -- unique only where there is one
    at = models.DateTimeField(db_index=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """In time order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return what happened."""
        return f"{self.get_kind_display()}: {self.change or self.reserved or self.ordered:+d}"
