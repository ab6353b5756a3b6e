"""The House in words: who may what, how people, tokens and deliveries stand."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, Final

from django.urls import reverse

from flueproof.shop.records.access.sending import MOST_TRIES
from flueproof.shop.records.access.tokens import in_words
from flueproof.shop.records.access.webhooks import EVENT_IN_WORDS, TEST_EVENT, state_of
from flueproof.shop.records.models import ApiToken, Person, Webhook, WebhookDelivery
from flueproof.shop.records.people.rights import RIGHT_IN_WORDS, RIGHTS, ROLES, may

_LINKS: Final = (
    ("Shop", "house:shop", "change-shop", {"shop"}),
    ("Stations", "house:stations", "change-shop", {"stations", "station"}),
    ("People", "house:people", "change-people", {"people", "person-new", "person", "password"}),
    ("Tokens", "house:tokens", "change-tokens", {"tokens"}),
    ("Webhooks", "house:webhooks", "change-tokens", {"webhooks", "webhook", "webhook-secret"}),
    ("Rights", "house:rights", "see-jobs", {"rights"}),
)
_STATES: Final = {"taken": "taken", "waiting": "waiting", "given-up": "given up"}


@dataclass(frozen=True, slots=True)
class HouseLink:
    """One room of the House that this person may enter."""

    word: str
    address: str
    here: bool


@dataclass(frozen=True, slots=True)
class RightRow:
    """One right: its name, its words, and for each role whether it has it."""

    right: str
    words: str
    cells: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class TokenLine:
    """One token as a row of the page."""

    token: ApiToken
    rights: tuple[str, ...]
    state: str
    usable: bool


@dataclass(frozen=True, slots=True)
class DeliveryLine:
    """One message as a row of the page; again: it can be sent again."""

    delivery: WebhookDelivery
    event: str
    state: str
    told: str
    again: bool


def house_links(person: Any, here: str) -> list[HouseLink]:
    """Return the rooms of the House for a person; `here` is the name of the address shown."""
    return [HouseLink(word, reverse(name), here in names) for word, name, right, names in _LINKS if may(person, right)]


def role_words() -> list[str]:
    """Return the roles in words, in the order of the table."""
    words = dict(Person.ROLES)
    return [words[role] for role in ROLES]


def right_rows() -> list[RightRow]:
    """Return the rights table."""
    return [
        RightRow(right, RIGHT_IN_WORDS[right], tuple(role in allowed for role in ROLES))
        for right, allowed in RIGHTS.items()
    ]


def token_lines(tokens: list[ApiToken], today: date) -> list[TokenLine]:
    """Return the tokens for the page, those in use first."""
    lines = [_token_line(token, today) for token in tokens]
    return sorted(lines, key=lambda line: not line.usable)


def _token_line(token: ApiToken, today: date) -> TokenLine:
    expired = token.expires_on is not None and token.expires_on < today
    if token.withdrawn_at is not None:
        state = "withdrawn"
    elif not token.person.is_active:
        state = f"stopped: {token.person} has left"
    else:
        state = "expired" if expired else "in use"
    return TokenLine(token, tuple(in_words(right) for right in token.rights), state, state == "in use")


def events_in_words(webhook: Webhook) -> list[str]:
    """Return what a webhook is told about."""
    return [EVENT_IN_WORDS.get(event, event) for event in webhook.events] or ["all that happens"]


def delivery_lines(deliveries: list[WebhookDelivery], now: datetime) -> list[DeliveryLine]:
    """Return the messages for the page."""
    return [_delivery_line(delivery, now) for delivery in deliveries]


def _delivery_line(delivery: WebhookDelivery, now: datetime) -> DeliveryLine:
    state = state_of(delivery)
    tries = f"{delivery.tries} of {MOST_TRIES} tries"
    told = f"{tries}; {delivery.last_answer}" if delivery.last_answer else tries if delivery.tries else "not tried yet"
    if state == "waiting" and delivery.next_try_at is not None and delivery.tries:
        told += f"; next try {_in(delivery.next_try_at - now)}"
    event = "Test message" if delivery.event == TEST_EVENT else EVENT_IN_WORDS.get(delivery.event, delivery.event)
    return DeliveryLine(delivery, event, _STATES[state], told, state != "waiting")


def _in(wait: timedelta) -> str:
    seconds = max(0, round(wait.total_seconds()))
    if seconds < 90:
        return f"in {seconds} s"
    return f"in {round(seconds / 60)} min" if seconds < 5400 else f"in {round(seconds / 3600)} h"
