"""Sending what lies in the outbox: at least once, in the background, again and again until it is taken.

A message is leased before it is sent (its next try is moved ahead), so that several processes never send it at the same
time; a process that dies in between leaves it for the next one. Hence at least once, not exactly once: who receives
tells repeats by the delivery's number.
"""

from __future__ import annotations

import logging
import random
from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from threading import Event
from typing import Final

from django.db import DatabaseError, close_old_connections, connection, transaction
from django.utils import timezone

from flueproof.shop.records.access.posting import PostAnswer, post
from flueproof.shop.records.access.signature import DELIVERY_HEADER, EVENT_HEADER, HEADER, signature
from flueproof.shop.records.models import WebhookDelivery

MOST_TRIES: Final = 15
LONGEST_WAIT: Final = timedelta(hours=24)
_FIRST_WAIT: Final = timedelta(seconds=20)
_LEASE: Final = timedelta(minutes=5)  # longer than a whole round of messages that all time out
_AT_ONCE: Final = 20
_LOOK_EVERY_S: Final = 2.0
_AFTER_TROUBLE_S: Final = 15.0
_LOG: Final = logging.getLogger(__name__)

Post = Callable[[str, bytes, Mapping[str, str]], PostAnswer]


def send_due(now: datetime, post_message: Post, rng: random.Random | None = None) -> int:
    """Send the messages that are due and return how many were tried; `rng` spreads the next tries.

    An address that does not answer at all is left alone for the rest of the round, so that it delays no other.
    """
    chance = rng or random.Random()  # noqa: S311 -- spreads tries, guards nothing
    tried, silent = 0, set[int]()
    for key, webhook in _due(now):
        delivery = None if webhook in silent else _lease(key, now)
        if delivery is not None:
            answer = _send(delivery, now, post_message)
            _note(delivery, answer, now, chance)
            tried += 1
            if answer.status == 0:
                silent.add(webhook)
    return tried


def wait_before(tries: int, rng: random.Random) -> timedelta:
    """Return how long to wait after so many tries: twice as long each time, up to a day, spread by a quarter."""
    steady_s = min(LONGEST_WAIT.total_seconds() / 1.25, _FIRST_WAIT.total_seconds() * 2.0 ** min(tries - 1, 20))
    return timedelta(seconds=steady_s * rng.uniform(0.75, 1.25))


def run_sender(stop_event: Event) -> None:
    """Send what is due every two seconds until `stop_event` is set; trouble is logged and tried again."""
    while not stop_event.is_set():
        wait_s = _LOOK_EVERY_S
        try:
            close_old_connections()
            send_due(timezone.now(), post)
        except DatabaseError:
            _LOG.exception("the outbox could not be read; tried again in %.0f s", _AFTER_TROUBLE_S)
            wait_s = _AFTER_TROUBLE_S
        finally:
            connection.close()
        stop_event.wait(wait_s)


def _due(now: datetime) -> list[tuple[int, int]]:
    waiting = WebhookDelivery.objects.filter(next_try_at__lte=now, sent_at=None, webhook__active=True)
    return list(waiting.order_by("next_try_at", "id").values_list("pk", "webhook_id")[:_AT_ONCE])


def _lease(key: int, now: datetime) -> WebhookDelivery | None:
    """Return the message when it is still to be sent, reserved for this process for a while."""
    with transaction.atomic():
        rows = WebhookDelivery.objects.select_for_update(
            skip_locked=connection.features.has_select_for_update_skip_locked
        )
        row = rows.filter(pk=key, next_try_at__lte=now, sent_at=None).first()
        if row is None:
            return None
        row.next_try_at = now + _LEASE
        row.tries += 1
        row.save(update_fields=["next_try_at", "tries"])
    return WebhookDelivery.objects.select_related("webhook").get(pk=key)


def _send(delivery: WebhookDelivery, now: datetime, post_message: Post) -> PostAnswer:
    body = delivery.body.encode()
    headers = {
        "Content-Type": "application/json",
        "User-Agent": "flueproof-webhook",
        DELIVERY_HEADER: str(delivery.pk),
        EVENT_HEADER: delivery.event,
        HEADER: signature(delivery.webhook.secret, body, int(now.timestamp())),
    }
    return post_message(delivery.webhook.url, body, headers)


def _note(delivery: WebhookDelivery, answer: PostAnswer, now: datetime, rng: random.Random) -> None:
    delivery.last_answer = f"{answer.status or ''} {answer.text}".strip()[:200]
    if answer.taken:
        delivery.sent_at, delivery.next_try_at = now, None
    elif delivery.tries >= MOST_TRIES:
        delivery.next_try_at = None  # given up; the page shows it, and a person may send it again
    else:
        delivery.next_try_at = now + wait_before(delivery.tries, rng)
    delivery.save(update_fields=["last_answer", "sent_at", "next_try_at"])
