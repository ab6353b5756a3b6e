"""Gas: what each test took, what the gauge said, and how a new cylinder compares with the old one. All append-only."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from flueproof.shop.records.models.analyzer import Analyzer
from flueproof.shop.records.models.reference import Reference
from flueproof.shop.records.models.work.visit import Application


class GasUse(models.Model):
    """Litres a test took from a cylinder, computed from flow and time."""

    reference = models.ForeignKey(Reference, on_delete=models.PROTECT, related_name="uses")
    application = models.ForeignKey(Application, null=True, on_delete=models.PROTECT, related_name="gas_uses")
    litres = models.FloatField()
    at = models.DateTimeField()
    what = models.CharField(max_length=120, blank=True)

    class Meta:
        """In time order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return the litres."""
        return f"{self.litres:.1f} L"


class GaugeReading(models.Model):
    """What the gauge of a cylinder showed; it corrects the litres counted."""

    reference = models.ForeignKey(Reference, on_delete=models.PROTECT, related_name="gauge_readings")
    kpa = models.FloatField()
    room_c = models.FloatField(default=20.0)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """In time order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return the pressure."""
        return f"{self.kpa:.0f} kPa"


class SpanCheck(models.Model):
    """A cylinder on the control analyzer: span factor = certificate value / settled reading, with its uncertainty.

    A new cylinder is compared with the old one (`compared_with`) before it judges anything. Where there is no factor
    (a gas of zero on this channel, or a display that gave no number) both stand at 0.0.
    """

    reference = models.ForeignKey(Reference, on_delete=models.PROTECT, related_name="span_checks")
    compared_with = models.ForeignKey(Reference, null=True, on_delete=models.PROTECT, related_name="+")
    analyzer = models.ForeignKey(Analyzer, on_delete=models.PROTECT, related_name="span_checks")
    channel = models.CharField(max_length=24)
    span_factor = models.FloatField()
    u = models.FloatField("standard uncertainty of the span factor")
    passed = models.BooleanField()
    detail = models.JSONField(default=dict)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """In time order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return the factor, in words where there is none."""
        return f"{self.span_factor:.4f}" if self.span_factor else "no span factor"
