"""The signature of a webhook message, so that who receives it knows that the shop sent it, and when.

`Flueproof-Signature: t=<Unix seconds>,v1=<hex>` where hex is the HMAC-SHA256 of "<seconds>.<body>" with the webhook's
secret as key. Source: RFC 2104 (HMAC); the layout of the header is our own.
"""

from __future__ import annotations

import hashlib
import hmac
from typing import Final

HEADER: Final = "Flueproof-Signature"
DELIVERY_HEADER: Final = "Flueproof-Delivery"
EVENT_HEADER: Final = "Flueproof-Event"


def signature(secret: str, body: bytes, seconds: int) -> str:
    """Return the header's value for a body sent at a Unix time [s]."""
    mac = hmac.new(secret.encode(), f"{seconds}.".encode() + body, hashlib.sha256)
    return f"t={seconds},v1={mac.hexdigest()}"
