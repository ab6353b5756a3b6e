"""The morning check that opens a bench for the day. Append-only."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from flueproof.shop.records.models.analyzer import Analyzer
from flueproof.shop.records.models.shop import Station


class MorningCheck(models.Model):
    """Three minutes on the control analyzer: each bottle in use, regulator, vent, room CO.

    lines: one object a bottle and channel (reference code, channel, unit, reference value, shown, error, U, limit,
    span_factor, passed); held_jobs: numbers of the jobs held when it failed.
    """

    day = models.DateField(db_index=True)
    station = models.ForeignKey(Station, null=True, on_delete=models.PROTECT, related_name="morning_checks")
    analyzer = models.ForeignKey(Analyzer, null=True, on_delete=models.PROTECT, related_name="morning_checks")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    room_co_ppm = models.FloatField()
    vent_ok = models.BooleanField()
    regulator_ok = models.BooleanField()
    lines = models.JSONField()
    passed = models.BooleanField()
    why_not = models.TextField(blank=True)
    held_jobs = models.JSONField(default=list)

    class Meta:
        """In time order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return day and result."""
        return f"{self.day} {'passed' if self.passed else 'failed'}"
