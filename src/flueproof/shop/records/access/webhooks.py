"""Webhooks as a person sees them: how a delivery stands, a test message, sending again."""

from __future__ import annotations

import json
import secrets
from datetime import datetime
from typing import Final

from flueproof.shop.records.models import Webhook, WebhookDelivery

TEST_EVENT: Final = "test"
EVENT_IN_WORDS: Final = {
    "job-state-changed": "A job moved to another state",
    "paper-issued": "A certificate or report was issued",
    "paper-amended": "An amended certificate was issued",
    "reference-withdrawn": "A cylinder or reference was withdrawn",
    "reference-found-wrong": "A reference turned out wrong, and its visits are judged again",
    "owner-to-be-told": "An owner must be told that an analyzer was found wrong",
}


class StillWaitingError(ValueError):
    """A delivery that is waiting for its next try needs no second order."""


def new_secret() -> str:
    """Return a secret for signing: 32 random bytes as text."""
    return secrets.token_urlsafe(32)


def send_test(webhook: Webhook, now: datetime) -> WebhookDelivery:
    """Put a test message for one webhook into the outbox and return it."""
    body = json.dumps({"event": TEST_EVENT, "at": now.isoformat(), "data": {"webhook": webhook.pk}}, sort_keys=True)
    return WebhookDelivery.objects.create(webhook=webhook, event=TEST_EVENT, body=body, made_at=now, next_try_at=now)


def send_again(delivery: WebhookDelivery, now: datetime) -> WebhookDelivery:
    """Put a delivery that was given up, or taken, back into the outbox; its tries count anew.

    Raises: StillWaitingError.
    """
    if delivery.next_try_at is not None:
        raise StillWaitingError("It is waiting for its next try already.")
    delivery.tries, delivery.sent_at, delivery.next_try_at = 0, None, now
    delivery.save(update_fields=["tries", "sent_at", "next_try_at"])
    return delivery


def state_of(delivery: WebhookDelivery) -> str:
    """Return how a delivery stands: `taken`, `waiting` or `given-up`."""
    if delivery.sent_at is not None:
        return "taken"
    return "waiting" if delivery.next_try_at is not None else "given-up"
