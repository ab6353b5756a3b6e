"""An owner's field log: readings the owner took with an analyzer, kept only where the owner said so."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from flueproof.shop.records.models.analyzer import Analyzer
from flueproof.shop.records.models.owner import Owner
from flueproof.shop.records.models.work.visit import Visit


class FieldLog(models.Model):
    """Readings as the owner gave them, with the limits the owner chose; it can be erased, and then it is gone.

    No history is kept of it on purpose: site labels are the owner's. rows: the readings as they were read from the
    list or typed; limits: what the owner compares them with, and by which formulas; said: the owner's
    word that it may be kept, and whose.
    """

    owner = models.ForeignKey(Owner, on_delete=models.PROTECT, related_name="field_logs")
    analyzer = models.ForeignKey(Analyzer, on_delete=models.PROTECT, related_name="field_logs")
    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="field_logs")
    name = models.CharField(max_length=120, blank=True)
    rows = models.JSONField(default=list)
    limits = models.JSONField(default=list)
    last_good = models.DateField("last known good", null=True, blank=True)
    said = models.CharField("who said it may be kept", max_length=200)
    kept_at = models.DateTimeField()
    kept_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    keep_until = models.DateField(null=True, blank=True, db_index=True)

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return the name, or whose it is."""
        return self.name or f"field log of {self.owner}"
