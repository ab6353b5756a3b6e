"""What the promise clock of a job heard, when minutes were worked, and the plans that were made."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.models.job import Job


class ClockEvent(models.Model):
    """One thing that starts, stops or moves a job's promise. Append-only; the promise is computed from these rows.

    at: when it holds from (a box that came yesterday evening is entered today); terms: the days and the meaning of the
    promise as they stood when it was given, so that a later setting never moves it.
    """

    KINDS: ClassVar = [
        ("arrived", "box arrived"),
        ("paperwork-complete", "paperwork complete"),
        ("paperwork-incomplete", "paperwork incomplete"),
        ("stopped", "clock stopped"),
        ("went-on", "clock went on"),
        ("service", "service changed"),
        ("promised", "promise given"),
        ("ready", "ready to go back"),
        ("delivered", "delivered"),
        ("called-off", "called off"),
    ]

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="clock_events")
    kind = models.CharField(max_length=24, choices=KINDS)
    cause = models.CharField("waits for", max_length=24, blank=True)
    words = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField()
    recorded_at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")
    day = models.DateField("promised day", null=True, blank=True)
    terms = models.JSONField(default=dict, blank=True)

    class Meta:
        """In the order in which they were recorded."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return what happened."""
        return self.get_kind_display()


class StepTime(models.Model):
    """How many minutes one step of one job took, as it was done. Append-only; plans learn from it."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="step_times")
    step = models.CharField(max_length=24)
    hands_on_min = models.FloatField()
    waiting_min = models.FloatField(default=0)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")
    ended_at = models.DateTimeField(db_index=True)

    class Meta:
        """In time order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return the step."""
        return self.step


class Plan(models.Model):
    """One plan of the bench as it was made; the last one counts. Append-only.

    content: the plan as JSON (see records/promises); why: what made it be made anew.
    """

    FOUND: ClassVar = [("quick", "first plan"), ("best-found", "best found"), ("proved", "proved best")]

    made_at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")
    why = models.CharField(max_length=200, blank=True)
    found = models.CharField(max_length=12, choices=FOUND, default="quick")
    gap = models.FloatField(null=True, blank=True)
    seconds = models.FloatField(default=0)
    state_key = models.CharField("what it was made from", max_length=64, blank=True)
    content = models.JSONField()

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return when it was made."""
        return f"plan of {self.made_at:%Y-%m-%d %H:%M}"
