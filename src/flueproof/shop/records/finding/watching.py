"""Search keys follow every save, by Django's own signals."""

from __future__ import annotations

from typing import Any

from django.db.models.signals import post_delete, post_save

from flueproof.shop.records.finding.indexing import forget, keep_in_step
from flueproof.shop.records.finding.texts import KINDS


def watch() -> None:
    """Listen to saves and deletions of everything that can be found; a second call changes nothing."""
    for kind in KINDS.values():
        post_save.connect(_saved, sender=kind.model, dispatch_uid=f"search-saved-{kind.name}")
        post_delete.connect(_gone, sender=kind.model, dispatch_uid=f"search-gone-{kind.name}")


def _saved(instance: Any, **_: Any) -> None:
    keep_in_step(instance)


def _gone(instance: Any, **_: Any) -> None:
    forget(instance)
