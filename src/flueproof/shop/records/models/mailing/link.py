"""Links in e-mails that answer one question without an account: secret, expiring, most of them good for one use."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from flueproof.shop.records.models.going_back.money import Quote
from flueproof.shop.records.models.intake.arrival import OwnerQuestion
from flueproof.shop.records.models.intake.request import ServiceRequest
from flueproof.shop.records.models.job import Job


class AnswerLink(models.Model):
    """One link; only the hash of its secret is kept, so that a copy of the database opens no door."""

    PURPOSES: ClassVar = [
        ("confirm", "confirm a request"),
        ("resume", "go on with a draft"),
        ("answer", "answer a question"),
        ("quote", "approve or decline a quote"),
        ("follow", "see where a job stands"),
    ]

    purpose = models.CharField(max_length=8, choices=PURPOSES)
    secret_sha256 = models.CharField(max_length=64, unique=True)
    request = models.ForeignKey(ServiceRequest, null=True, blank=True, on_delete=models.CASCADE, related_name="links")
    question = models.ForeignKey(OwnerQuestion, null=True, blank=True, on_delete=models.CASCADE, related_name="links")
    quote = models.ForeignKey(Quote, null=True, blank=True, on_delete=models.CASCADE, related_name="links")
    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.CASCADE, related_name="links")
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return what it is for."""
        return self.get_purpose_display()
