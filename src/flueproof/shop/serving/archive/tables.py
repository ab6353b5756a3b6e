"""Tables for a backup in an empty place: those of today, or those of the version that wrote it."""

from __future__ import annotations

from typing import Any

from django.apps import apps as today
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from flueproof.shop.records.models import Person, Shop, Visit
from flueproof.shop.serving.archive.checking import Checked, RestoreError
from flueproof.shop.serving.preparing import bring_up_to_date


def make_tables(backup: Checked) -> Any:
    """Give an empty place the tables that the backup was written from; return the registry of their models.

    Raises: RestoreError when the place is not empty, or its tables are newer than those of the backup.
    """
    if Person._meta.db_table in connection.introspection.table_names():  # noqa: SLF001 -- Django's documented model API
        refuse_a_full_place()
    if not backup.is_older:
        bring_up_to_date()
        return today
    executor = MigrationExecutor(connection)
    if newer := {f"{app}/{name}" for app, name in executor.loader.applied_migrations} - set(backup.schema):
        raise RestoreError(
            f"this place has newer tables than the backup ({min(newer)})",
            "Name a new --data folder (or an empty database): it gets the backup's tables and is brought up to date.",
        )
    last = list(_last_of_each_app(backup.schema).values())
    executor.migrate(last)
    return MigrationExecutor(connection).loader.project_state(last).apps


def refuse_a_full_place() -> None:
    """Refuse a place where somebody works already.

    Raises: RestoreError.
    """
    if Person.objects.exists() or Visit.objects.exists() or Shop.objects.filter(version__gt=1).exists():
        raise RestoreError("this place is not empty", "Name a new --data folder (or an empty database).")


def _last_of_each_app(schema: list[str]) -> dict[str, tuple[str, str]]:
    """Return the last migration of each app: their names begin with their number."""
    last: dict[str, tuple[str, str]] = {}
    for app, _, name in sorted(one.partition("/") for one in schema):
        last[app] = (app, name)
    return last
