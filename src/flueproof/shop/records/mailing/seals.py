"""Secrets of links: what is kept in letters is sealed, so that a copy of the database opens no door.

A secret is a random part and its HMAC-SHA256 with the server's own key (RFC 2104), which lies outside the database.
The hash of a secret stands with its link; a letter keeps the random part only, and gets the rest when it is sent.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import re
import secrets
from typing import Final

from django.conf import settings

_RANDOM_BYTES: Final = 12
_SECRET: Final = re.compile(r"([A-Za-z0-9_-]{16})~([A-Za-z0-9_-]{32})")
_SEALED: Final = re.compile(r"([A-Za-z0-9_-]{16})~sealed")
_SEAL: Final = "~sealed"


def new_secret() -> str:
    """Return a secret for an address: 16 random signs (96 bits), "~", and 32 signs (192 bits) that only we can make."""
    chance = secrets.token_urlsafe(_RANDOM_BYTES)
    return f"{chance}~{_mark(chance)}"


def hash_of(secret: str) -> str:
    """Return what is kept of a secret."""
    return hashlib.sha256(secret.encode()).hexdigest()


def seal(text: str) -> str:
    """Return a text in which every secret of ours is sealed."""
    return _SECRET.sub(lambda found: found[1] + _SEAL if _is_ours(found[1], found[2]) else found[0], text)


def unseal(text: str) -> str:
    """Return a text in which every seal is the secret again; only what leaves the house is unsealed."""
    return _SEALED.sub(lambda found: f"{found[1]}~{_mark(found[1])}", text)


def without_seals(text: str) -> str:
    """Return what a person typed, in which nothing can be unsealed."""
    return text.replace(_SEAL, "~ sealed")


def sealed_secrets(text: str) -> list[str]:
    """Return the secrets whose seals stand in a text."""
    return [f"{chance}~{_mark(chance)}" for chance in dict.fromkeys(_SEALED.findall(text))]


def _is_ours(chance: str, mark: str) -> bool:
    return hmac.compare_digest(mark, _mark(chance))


def _mark(chance: str) -> str:
    mac = hmac.new(settings.SECRET_KEY.encode(), b"flueproof answer link " + chance.encode(), hashlib.sha256)
    return base64.urlsafe_b64encode(mac.digest()[:24]).decode()
