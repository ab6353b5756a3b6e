"""Doors for programs: tokens with rights, webhooks and their deliveries."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.shop import Station


class ApiToken(Audited):
    """A token of a program; only its SHA-256 is kept. rights: names of the rights table, or `capture`."""

    name = models.CharField(max_length=80)
    beginning = models.CharField(max_length=12)
    sha256 = models.CharField(max_length=64, unique=True)
    rights = models.JSONField(default=list)
    station = models.ForeignKey(Station, null=True, blank=True, on_delete=models.PROTECT, related_name="tokens")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="tokens")
    expires_on = models.DateField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    last_used_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        """By name."""

        ordering = ("name", "id")

    def __str__(self) -> str:
        """Return the name."""
        return self.name


class ApiAnswer(models.Model):
    """What a request with an `Idempotency-Key` was answered, so that the same request sent again changes nothing more.

    request_sha256: hash of method, path and body; the same key with another request is refused.
    """

    token = models.ForeignKey(ApiToken, on_delete=models.CASCADE, related_name="answers")
    key = models.CharField(max_length=80)
    request_sha256 = models.CharField(max_length=64)
    status = models.PositiveSmallIntegerField()
    body = models.TextField()
    at = models.DateTimeField(db_index=True)

    class Meta:
        """One answer a key and token."""

        constraints: ClassVar = [models.UniqueConstraint(fields=("token", "key"), name="one_answer_per_key")]

    def __str__(self) -> str:
        """Return the key."""
        return self.key


class Webhook(Audited):
    """An address that is told when something happens."""

    url = models.URLField(max_length=300)
    secret = models.CharField(max_length=80)
    events = models.JSONField(default=list)
    active = models.BooleanField(default=True)

    def __str__(self) -> str:
        """Return the address."""
        return self.url


class WebhookDelivery(models.Model):
    """One message to one address, written with the change itself and sent afterwards, until it is taken."""

    webhook = models.ForeignKey(Webhook, on_delete=models.CASCADE, related_name="deliveries")
    event = models.CharField(max_length=40)
    body = models.TextField()
    made_at = models.DateTimeField()
    next_try_at = models.DateTimeField(null=True, db_index=True)
    tries = models.PositiveSmallIntegerField(default=0)
    sent_at = models.DateTimeField(null=True)
    last_answer = models.CharField(max_length=200, blank=True)

    class Meta:
        """In order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return event and number."""
        return f"{self.event} {self.pk}"
