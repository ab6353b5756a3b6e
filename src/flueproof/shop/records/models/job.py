"""Jobs: one stay of one analyzer at the shop, from request to return."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.analyzer import Analyzer
from flueproof.shop.records.models.owner import Owner


class Job(Audited):
    """One stay. The state says where the analyzer is; `waits_for` says what stops it, in words."""

    STATES: ClassVar = [
        ("requested", "asked for, box not here"),
        ("arrived", "here, not on the bench"),
        ("bench", "on the bench"),
        ("held", "on hold"),
        ("parts", "waiting for parts"),
        ("to-sign", "ready to sign"),
        ("to-return", "signed, to go back"),
        ("sent-on", "at another shop"),
        ("shipped", "on its way back"),
        ("returned", "returned"),
        ("dropped", "dropped"),
    ]
    OPEN: ClassVar = ("requested", "arrived", "bench", "held", "parts", "to-sign", "to-return", "sent-on", "shipped")
    SERVICES: ClassVar = [
        ("verify", "verify"),
        ("verify-adjust", "verify, adjust if needed"),
        ("repair", "repair"),
        ("call-first", "call first"),
    ]

    number = models.CharField(max_length=20, unique=True)
    owner = models.ForeignKey(Owner, on_delete=models.PROTECT, related_name="jobs")
    analyzer = models.ForeignKey(Analyzer, on_delete=models.PROTECT, related_name="jobs")
    state = models.CharField(max_length=12, choices=STATES, default="requested")
    service = models.CharField(max_length=16, choices=SERVICES, default="verify-adjust")
    as_found = models.BooleanField("as-found values wanted", default=True)
    limits = models.JSONField(default=str, blank=True, help_text='"profile", or the owner\'s own limits per channel.')
    decision_rule = models.CharField(max_length=12, choices=Owner.DECISION_RULES, default="risk-2")
    due_wanted = models.BooleanField("due date wanted", default=False)
    complaint = models.TextField("complaint, in the owner's words", blank=True)
    enclosed = models.JSONField("what came in the box", default=list, blank=True)
    enclosed_announced = models.JSONField("what the box slip says is enclosed", default=list, blank=True)
    parts_changed = models.TextField("parts changed", blank=True)
    condition = models.CharField("condition on arrival", max_length=300, blank=True)
    used_on = models.CharField("last used on", max_length=200, blank=True)
    accidents = models.JSONField("dropped, wet or frozen", default=list, blank=True)
    own_number = models.CharField("owner's own number", max_length=60, blank=True)
    purchase_order = models.CharField(max_length=60, blank=True)
    spend_up_to = models.DecimalField("repair up to", max_digits=9, decimal_places=2, null=True, blank=True)
    may_set_clock = models.BooleanField("clock may be set", default=True)
    may_update_firmware = models.BooleanField("firmware may be updated", default=False)
    may_clear_memory = models.BooleanField("stored measurements may be deleted", default=False)
    return_address = models.TextField(blank=True)
    return_carrier = models.CharField("how it goes back", max_length=120, blank=True)
    needed_by = models.DateField(null=True, blank=True)
    parts_due = models.DateField("parts expected", null=True, blank=True)
    payment_held = models.BooleanField("goes back only when paid", default=False)
    received_on = models.DateField(null=True, blank=True)
    promised_on = models.DateField(null=True, blank=True, db_index=True)
    rush = models.BooleanField(default=False)
    waits_for = models.CharField(max_length=200, blank=True)
    clock_stopped_at = models.DateTimeField(null=True, blank=True)
    opened_at = models.DateTimeField(db_index=True)
    closed_at = models.DateTimeField(null=True, blank=True)
    first_job = models.ForeignKey("self", null=True, blank=True, on_delete=models.PROTECT, related_name="comebacks")

    class Meta:
        """The newest first; the open ones have an index of their own, so that a long past costs nothing."""

        ordering = ("-id",)
        indexes: ClassVar = [
            models.Index(
                fields=("promised_on", "id"),
                name="open_jobs",
                condition=~models.Q(state__in=("returned", "dropped")),
            ),
            models.Index(fields=("state", "promised_on", "id"), name="jobs_by_state"),
        ]

    def __str__(self) -> str:
        """Return the number."""
        return self.number

    @property
    def is_open(self) -> bool:
        """Return True until the analyzer went back or the job was dropped."""
        return self.state in self.OPEN


class JobMoment(models.Model):
    """A moment in a job's life that is kept for ever: state changes, holds, letters, decisions. Append-only."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="moments")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")
    what = models.CharField(max_length=40)
    state_before = models.CharField(max_length=12, blank=True)
    state_after = models.CharField(max_length=12, blank=True)
    text = models.TextField(blank=True)

    class Meta:
        """In time order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return what happened."""
        return self.what
