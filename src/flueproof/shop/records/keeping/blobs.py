"""Keeping files: by their hash, once each."""

from __future__ import annotations

import hashlib
from datetime import datetime

from flueproof.shop.records.models import Blob


def keep_blob(content: bytes, media_type: str, now: datetime) -> Blob:
    """Store bytes and return their row; the same bytes are stored once."""
    digest = hashlib.sha256(content).hexdigest()
    row, _ = Blob.objects.get_or_create(
        sha256=digest,
        defaults={"media_type": media_type, "size": len(content), "content": content, "added_at": now},
    )
    return row
