"""E-mails: templates that the shop can edit, and the log of what was sent."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.intake.request import ServiceRequest
from flueproof.shop.records.models.job import Job
from flueproof.shop.records.models.owner import Owner


class LetterTemplate(Audited):
    """The shop's own words of one kind of e-mail; kinds that have no row use the words that Flueproof brings."""

    kind = models.CharField(max_length=24, unique=True)
    subject = models.CharField(max_length=200)
    text = models.TextField()

    class Meta:
        """By kind."""

        ordering = ("kind",)

    def __str__(self) -> str:
        """Return the kind."""
        return self.kind


class Letter(models.Model):
    """One e-mail as it went out, or was to go out: kept word for word. What happened to it afterwards is added."""

    STATES: ClassVar = [
        ("waiting", "waits to be sent"),
        ("sent", "given to the mail server"),
        ("failed", "not sent"),
        ("bounced", "came back"),
    ]

    kind = models.CharField(max_length=24, db_index=True)
    to = models.CharField(max_length=254)
    subject = models.CharField(max_length=200)
    text = models.TextField()
    html = models.TextField(blank=True)
    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.PROTECT, related_name="letters")
    request = models.ForeignKey(
        ServiceRequest, null=True, blank=True, on_delete=models.SET_NULL, related_name="letters"
    )
    owner = models.ForeignKey(Owner, null=True, blank=True, on_delete=models.PROTECT, related_name="letters")
    made_at = models.DateTimeField(db_index=True)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")
    state = models.CharField(max_length=8, choices=STATES, default="waiting", db_index=True)
    tries = models.PositiveSmallIntegerField(default=0)
    next_try_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    trouble = models.TextField(blank=True)
    message_id = models.CharField(max_length=200, blank=True, db_index=True)

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return the subject."""
        return self.subject
