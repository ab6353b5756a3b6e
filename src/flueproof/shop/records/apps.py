"""The records app: after each migrate the append-only triggers are made anew."""

from __future__ import annotations

from typing import Any

from django.apps import AppConfig
from django.db import connections
from django.db.models.signals import post_migrate


class RecordsConfig(AppConfig):
    """The shared models of the shop."""

    name = "flueproof.shop.records"
    label = "records"
    verbose_name = "Records"

    def ready(self) -> None:
        """Watch for migrations (SQLite drops triggers when it rebuilds a table) and for saves (search keys follow)."""
        from flueproof.shop.records.finding.watching import watch  # noqa: PLC0415 -- models load first

        post_migrate.connect(_make_append_only, sender=self)
        watch()


def _make_append_only(using: str, **_: Any) -> None:
    from flueproof.shop.records.keeping.append_only import make_append_only  # noqa: PLC0415 -- apps load first

    make_append_only(connections[using])
