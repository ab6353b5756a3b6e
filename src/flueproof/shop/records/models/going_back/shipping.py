"""The way out: what was checked when the box was packed, and how it travels; also to another shop."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.blob import Blob
from flueproof.shop.records.models.job import Job


class PackOut(Audited):
    """The check before the box is closed, against what came.

    checks: name of the check -> "yes", "no" or "not needed", with words; goes_back, stays: parts by name.
    """

    job = models.OneToOneField(Job, on_delete=models.PROTECT, related_name="pack_out")
    checks = models.JSONField(default=dict, blank=True)
    goes_back = models.JSONField(default=list, blank=True)
    stays = models.JSONField(default=dict, blank=True, help_text="Part -> why it does not go back.")
    parts_changed = models.TextField(blank=True)
    done_at = models.DateTimeField(null=True, blank=True)
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        """In order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return whose."""
        return f"pack-out of {self.job}"


class Shipment(Audited):
    """A box on its way: back to the owner, on to another shop, or a loan unit (which may belong to no job)."""

    WAYS: ClassVar = [("back", "back to its owner"), ("on", "to another shop"), ("loan", "a loan unit")]

    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.PROTECT, related_name="shipments")
    loan = models.ForeignKey("records.Loan", null=True, blank=True, on_delete=models.PROTECT, related_name="shipments")
    way = models.CharField(max_length=8, choices=WAYS, default="back")
    carrier = models.CharField(max_length=80, blank=True)
    tracking = models.CharField(max_length=80, blank=True, db_index=True)
    address = models.TextField(blank=True)
    left_at = models.DateTimeField()
    sent_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    delivered_at = models.DateTimeField(null=True, blank=True)
    delivered_to = models.CharField(max_length=120, blank=True)
    came_back_at = models.DateTimeField(null=True, blank=True)
    note = models.TextField(blank=True)

    class Meta:
        """The newest first; a box belongs to a job, to a loan, or to both."""

        ordering = ("-id",)
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(job__isnull=False) | models.Q(loan__isnull=False),
                name="shipment_is_of_a_job_or_a_loan",
            )
        ]

    def __str__(self) -> str:
        """Return carrier and tracking number."""
        return f"{self.carrier} {self.tracking}".strip() or "box"


class SentOn(Audited):
    """A job that another shop works on, with that shop's own date and paper (ISO/IEC 17025, 7.8.2.1 p)."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="sent_on")
    shop = models.CharField("which shop", max_length=200)
    what_for = models.CharField(max_length=300)
    their_number = models.CharField("their job number", max_length=60, blank=True)
    sent_at = models.DateTimeField()
    back_promised = models.DateField("promised back", null=True, blank=True)
    back_at = models.DateTimeField(null=True, blank=True)
    paper = models.ForeignKey(Blob, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    paper_name = models.CharField(max_length=120, blank=True)
    results = models.TextField("what their paper says", blank=True)

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return the shop."""
        return self.shop
