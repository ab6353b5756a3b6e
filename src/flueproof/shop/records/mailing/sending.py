"""Sending the letters of the outbox in the background, again and again with growing pauses until they are taken.

A letter is leased before it is sent (its next try is moved ahead), so that two senders never send it twice. Only a
process that dies between the server's yes and our note of it lets a letter go out again, with the same Message-ID.
"""

from __future__ import annotations

import contextlib
import logging
import random
import smtplib
from collections.abc import Callable
from datetime import datetime, timedelta
from email.utils import formataddr
from threading import Event
from typing import Final

from django.conf import settings
from django.core.mail import EmailMultiAlternatives, get_connection
from django.db import DatabaseError, close_old_connections, connection, transaction
from django.utils import timezone

from flueproof.shop.records.mailing.by_time import write_due_letters, write_ready_letters
from flueproof.shop.records.mailing.seals import unseal
from flueproof.shop.records.mailing.undelivered import bounced, not_sent
from flueproof.shop.records.mailing.words import one_line
from flueproof.shop.records.models import Letter, Shop
from flueproof.shop.records.money.by_time import bring_what_is_due

MOST_TRIES: Final = 14
LONGEST_WAIT: Final = timedelta(hours=12)
_FIRST_WAIT: Final = timedelta(minutes=1)
_LEASE: Final = timedelta(minutes=10)  # longer than a whole talk with a server that answers at the last moment
_AT_ONCE: Final = 20
_LOOK_EVERY_S: Final = 2.0
_AFTER_TROUBLE_S: Final = 15.0
_READY_EVERY, _DUE_EVERY = timedelta(minutes=1), timedelta(hours=1)
_LOG: Final = logging.getLogger(__name__)

Deliver = Callable[[EmailMultiAlternatives], object]


def send_letters(
    now: datetime, rng: random.Random | None = None, deliver: Deliver | None = None, stop_event: Event | None = None
) -> int:
    """Send the letters that are due and return how many were tried; none is begun once `stop_event` is set.

    Where the server itself does not answer, the round ends: the others need not wait for it too.
    """
    chance = rng or random.Random()  # noqa: S311 -- spreads tries, guards nothing
    shop, tried = Shop.here(), 0
    for key in _due(now):
        letter = None if stop_event is not None and stop_event.is_set() else _lease(key, now)
        if letter is None:
            continue
        tried += 1
        if not _send(letter, shop, now, chance, deliver or _deliver):
            break
    return tried


def wait_before(tries: int, rng: random.Random) -> timedelta:
    """Return how long to wait after so many tries: twice as long each time, up to 12 hours, spread by a quarter."""
    steady_s = min(LONGEST_WAIT.total_seconds() / 1.25, _FIRST_WAIT.total_seconds() * 2.0 ** min(tries - 1, 20))
    return timedelta(seconds=steady_s * rng.uniform(0.75, 1.25))


def run_letters(stop_event: Event) -> None:
    """Send what is due every two seconds until `stop_event` is set, and write what time writes."""
    ready_at = due_at = timezone.now()
    while not stop_event.is_set():
        wait_s, now = _LOOK_EVERY_S, timezone.now()
        try:
            close_old_connections()
            if now >= ready_at:
                ready_at = now + _READY_EVERY
                write_ready_letters(now)
            if now >= due_at:
                due_at = now + _DUE_EVERY
                write_due_letters(now)
                bring_what_is_due(now)
            send_letters(now, stop_event=stop_event)
        except DatabaseError:
            _LOG.exception("the letters could not be read; tried again in %.0f s", _AFTER_TROUBLE_S)
            wait_s = _AFTER_TROUBLE_S
        finally:
            connection.close()
        stop_event.wait(wait_s)


def message_of(letter: Letter, shop: Shop) -> EmailMultiAlternatives:
    """Return the e-mail of a letter as it goes out: links unsealed, plain text and HTML."""
    sender = shop.email or settings.DEFAULT_FROM_EMAIL
    headers = {"Message-ID": letter.message_id}
    if letter.made_by_id is None:
        headers["Auto-Submitted"] = "auto-generated"  # RFC 3834: nobody's vacation answers it
    message = EmailMultiAlternatives(
        subject=one_line(letter.subject),
        body=unseal(letter.text),
        from_email=formataddr((one_line(shop.name), sender)),
        to=[letter.to],
        headers=headers,
    )
    if letter.html:
        message.attach_alternative(unseal(letter.html), "text/html")
    return message


def _deliver(message: EmailMultiAlternatives) -> object:
    """Send by a connection of its own, which is closed also where the server did not let it in."""
    line = message.connection = get_connection()
    try:
        return message.send()
    finally:
        with contextlib.suppress(OSError, smtplib.SMTPException):
            line.close()


def _due(now: datetime) -> list[int]:
    waiting = Letter.objects.filter(state="waiting", next_try_at__lte=now)
    return list(waiting.order_by("next_try_at", "id").values_list("pk", flat=True)[:_AT_ONCE])


def _lease(key: int, now: datetime) -> Letter | None:
    """Return the letter when it is still to be sent, reserved for this process for a while."""
    with transaction.atomic():
        rows = Letter.objects.select_for_update(skip_locked=connection.features.has_select_for_update_skip_locked)
        row = rows.filter(pk=key, state="waiting", next_try_at__lte=now).first()
        if row is None:
            return None
        row.next_try_at = now + _LEASE
        row.tries += 1
        row.save(update_fields=["next_try_at", "tries"])
    return Letter.objects.select_related("job").get(pk=key)


def _send(letter: Letter, shop: Shop, now: datetime, rng: random.Random, deliver: Deliver) -> bool:
    """Send one letter and keep what came of it; return False when the server does not answer at all."""
    try:
        deliver(message_of(letter, shop))
    except smtplib.SMTPRecipientsRefused as error:
        code, words = _refusal(error)
        if 500 <= code < 600:
            bounced(letter, f"the mail server refused the address: {code} {words}", None, now)
        else:
            _later(letter, f"the mail server does not take it yet: {code} {words}", now, rng)
        return True
    except smtplib.SMTPDataError as error:
        words = f"{error.smtp_code} {_text(error.smtp_error)}"
        if 500 <= error.smtp_code < 600:
            not_sent(letter, f"the mail server refused the e-mail: {words}", now)
        else:
            _later(letter, f"the mail server does not take it yet: {words}", now, rng)
        return True
    except (OSError, smtplib.SMTPException) as error:
        _later(letter, f"no e-mail leaves: {_text(error)}", now, rng)
        return False
    except Exception as error:  # noqa: BLE001 -- one letter that cannot be made must not stop all others
        not_sent(letter, f"the e-mail could not be made: {_text(error)}", now)
        return True
    letter.state, letter.sent_at, letter.next_try_at, letter.trouble = "sent", now, None, ""
    letter.save(update_fields=["state", "sent_at", "next_try_at", "trouble"])
    return True


def _later(letter: Letter, trouble: str, now: datetime, rng: random.Random) -> None:
    if letter.tries >= MOST_TRIES:
        not_sent(letter, f"given up after {letter.tries} tries; {trouble}", now)
        return
    letter.trouble, letter.next_try_at = trouble[:500], now + wait_before(letter.tries, rng)
    letter.save(update_fields=["trouble", "next_try_at"])


def _refusal(error: smtplib.SMTPRecipientsRefused) -> tuple[int, str]:
    code, words = next(iter(error.recipients.values()), (0, b""))
    return code, _text(words)


def _text(words: object) -> str:
    plain = words.decode("utf-8", "replace") if isinstance(words, bytes) else str(words)
    return one_line(plain)[:300] or type(words).__name__
