"""Telling other programs: a message is written in the same transaction as the change, and sent afterwards."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any, Final

from flueproof.shop.records.models import Webhook, WebhookDelivery

EVENTS: Final = (
    "job-state-changed",
    "paper-issued",
    "paper-amended",
    "reference-withdrawn",
    "reference-found-wrong",
    "owner-to-be-told",
)


def tell(event: str, payload: dict[str, Any], now: datetime) -> None:
    """Put a message for every active webhook that asked for this event into the outbox.

    Raises: KeyError for an event that is not in EVENTS.
    """
    if event not in EVENTS:
        raise KeyError(event)
    body = json.dumps({"event": event, "at": now.isoformat(), "data": payload}, sort_keys=True)
    for webhook in Webhook.objects.filter(active=True):
        if not webhook.events or event in webhook.events:
            WebhookDelivery.objects.create(webhook=webhook, event=event, body=body, made_at=now, next_try_at=now)
