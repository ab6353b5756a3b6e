"""Tokens of programs: shown once, kept as their SHA-256 only, never stronger than the person who made them."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Iterable
from datetime import date, datetime, timedelta
from typing import Any, Final

from django.db.models import Q
from django.utils import timezone

from flueproof.shop.records.models import ApiToken, Person, Station
from flueproof.shop.records.people.rights import RIGHT_IN_WORDS, RIGHTS, may

CAPTURE: Final = "capture"
CAPTURE_IN_WORDS: Final = "Deliver readings from the station it stands at"
_BEGINS: Final = "fp_"
_SHOWN: Final = 9
_SEEN_ANEW_AFTER: Final = timedelta(minutes=1)


class TokenRefusedError(ValueError):
    """A token that cannot be made so; nothing was written."""


class TokenUnknownError(ValueError):
    """A token that opens nothing: unknown, withdrawn, expired, or of a person who is gone."""


def rights_to_give(person: Person) -> list[str]:
    """Return the rights that a person may put into a token: their own, and capturing where they make tokens."""
    own = [right for right in RIGHTS if may(person, right)]
    return [*own, CAPTURE] if may(person, "change-tokens") else own


def make_token(
    name: str, rights: Iterable[str], by: Person, *, station: Station | None = None, expires_on: date | None = None
) -> tuple[ApiToken, str]:
    """Return the new token's row and its text, which is told this once and never again.

    Raises: TokenRefusedError.
    """
    wanted = sorted(set(rights))
    if not wanted:
        raise TokenRefusedError("A token without any right opens nothing; choose at least one.")
    if foreign := [right for right in wanted if right not in rights_to_give(by)]:
        raise TokenRefusedError(f"You cannot give what you may not do yourself: {in_words(foreign[0]).lower()}.")
    if CAPTURE in wanted and station is None:
        raise TokenRefusedError("A token that delivers readings needs the station it stands at.")
    text = _BEGINS + secrets.token_urlsafe(32)
    row: Any = ApiToken(
        name=name,
        beginning=text[:_SHOWN],
        sha256=_digest(text),
        rights=wanted,
        station=station,
        person=by,
        expires_on=expires_on,
    )
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save(force_insert=True)
    return row, text


def withdraw_token(token: ApiToken, by: Person, now: datetime) -> ApiToken:
    """Withdraw a token for good; one that is withdrawn already stays as it is."""
    row: Any = ApiToken.objects.get(pk=token.pk)
    if row.withdrawn_at is None:
        row.withdrawn_at = now
        row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
        row.save(update_fields=["withdrawn_at"])
    withdrawn: ApiToken = row
    return withdrawn


def token_of(text: str, now: datetime) -> ApiToken:
    """Return the row of a token that opens something today, and note its use at most once a minute.

    Raises: TokenUnknownError, with the reason.
    """
    row: ApiToken | None = ApiToken.objects.select_related("person", "station").filter(sha256=_digest(text)).first()
    if row is None or row.withdrawn_at is not None:
        raise TokenUnknownError("This token is not known here.")
    if row.expires_on is not None and row.expires_on < timezone.localdate(now):
        raise TokenUnknownError("This token has expired.")
    if not row.person.is_active:
        raise TokenUnknownError("The person who made this token has left.")
    _note_use(row, now)
    return row


def token_may(token: ApiToken, right: str) -> bool:
    """Return True when a token has a right and the person who made it still has it too."""
    return right in token.rights and may(token.person, right)


def in_words(right: str) -> str:
    """Return a right of a token in words."""
    return CAPTURE_IN_WORDS if right == CAPTURE else RIGHT_IN_WORDS.get(right, right)


def _note_use(row: ApiToken, now: datetime) -> None:
    """Write the time without history: it is no change of the token, and one write a minute is enough."""
    if row.last_used_at is not None and now - row.last_used_at < _SEEN_ANEW_AFTER:
        return
    row.last_used_at = now
    old = Q(last_used_at=None) | Q(last_used_at__lte=now - _SEEN_ANEW_AFTER)
    ApiToken._base_manager.filter(old, pk=row.pk).update(last_used_at=now)  # noqa: SLF001 -- Django's manager without ours


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()
