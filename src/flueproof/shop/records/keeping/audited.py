"""Business rows whose every change is kept: who, when, from, to; bulk writes included."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any, ClassVar, Final, NoReturn

from django.db import connections, models, transaction
from simple_history.models import HistoricalRecords

_KEYS_AT_ONCE: Final = 900


class UnkeptChangeError(TypeError):
    """A bulk write that would leave no history."""


def person_at_work() -> Any:
    """Return the person whose request is being served, or None (a command, a test)."""
    request = getattr(HistoricalRecords.context, "request", None)
    user = getattr(request, "user", None)
    return user if getattr(user, "is_authenticated", False) else None


class AuditedQuerySet(models.QuerySet[Any]):
    """A query set that writes history in bulk, or refuses."""

    def bulk_create(self, objs: Iterable[Any], batch_size: int | None = None, **options: Any) -> list[Any]:  # type: ignore[override]
        """Insert rows and one history row each, in one transaction."""
        with transaction.atomic(using=self.db):
            made = super().bulk_create(objs, batch_size=batch_size, **options)
            self._keep(made, batch_size, update=False)
        return made

    def bulk_update(self, objs: Iterable[Any], fields: Sequence[str], batch_size: int | None = None) -> int:  # type: ignore[override]
        """Change rows, raise their version and keep one history row each, in one transaction."""
        rows = list(objs)
        for row in rows:
            row.version += 1
        with transaction.atomic(using=self.db):
            plain: models.QuerySet[Any] = models.QuerySet(
                self.model, using=self.db
            )  # Django's calls update(), ours refuses
            changed = plain.bulk_update(rows, [*fields, "version"], batch_size=batch_size)
            self._keep(rows, batch_size, update=True)
        return changed

    def update(self, **values: Any) -> NoReturn:  # noqa: ARG002 -- same signature as Django's
        """Refuse: an UPDATE in one statement leaves no history."""
        raise UnkeptChangeError(f"{self.model.__name__}.update() leaves no history; use bulk_update() or save()")

    def delete(self) -> NoReturn:
        """Refuse: business rows are closed or merged, not removed in bulk."""
        raise UnkeptChangeError(
            f"{self.model.__name__}: rows are not deleted in bulk; delete one by one, or close them"
        )

    def bulk_create_by(self, objs: Iterable[Any], by: Any, why: str, at: datetime) -> list[Any]:
        """Insert rows with version 1, and one history row each that names who, why and when; for very many rows.

        The history is written inside the database, so that a row costs little more than itself.
        """
        rows = list(objs)
        for row in rows:
            row.version = 1
        with transaction.atomic(using=self.db):
            made = super().bulk_create(rows)
            self._copy_to_history([row.pk for row in made], "+", by, why, at)
        return made

    def delete_by(self, keys: Sequence[int], by: Any, why: str, at: datetime) -> None:
        """Delete the rows with these keys, which nothing else may stand on, with one history row each.

        No signals are sent: the search keys of the rows are the caller's to remove.
        """
        plain: models.QuerySet[Any] = models.QuerySet(self.model, using=self.db)
        with transaction.atomic(using=self.db):
            self._copy_to_history(keys, "-", by, why, at)
            plain.filter(pk__in=keys)._raw_delete(self.db)  # noqa: SLF001 -- delete() sends signals

    def _copy_to_history(self, keys: Sequence[int], sign: str, by: Any, why: str, at: datetime) -> None:
        history: Any = self.model.history
        kept, connection = history.model, connections[self.db]
        quoted = connection.ops.quote_name
        told = {"history_type": sign, "history_user": by.pk, "history_change_reason": why, "history_date": at}
        fields = [field.name for field in kept.tracked_fields]
        into = ", ".join(quoted(kept._meta.get_field(name).column) for name in (*fields, *told))  # noqa: SLF001
        taken = ", ".join(quoted(field.column) for field in kept.tracked_fields)
        table, key = quoted(self.model._meta.db_table), quoted(self.model._meta.pk.column)  # noqa: SLF001
        values = [
            kept._meta.get_field(name).get_db_prep_save(value, connection)  # noqa: SLF001 -- Django's documented model API
            for name, value in told.items()
        ]
        holes, target = ", ".join(["%s"] * len(told)), quoted(kept._meta.db_table)  # noqa: SLF001
        with connection.cursor() as cursor:
            for start in range(0, len(keys), _KEYS_AT_ONCE):
                some = keys[start : start + _KEYS_AT_ONCE]
                cursor.execute(
                    f"INSERT INTO {target} ({into}) SELECT {taken}, {holes} FROM {table} "  # noqa: S608 -- names only
                    f"WHERE {key} IN ({', '.join(['%s'] * len(some))}) ORDER BY {key}",
                    [*values, *some],
                )

    def _keep(self, rows: list[Any], batch_size: int | None, *, update: bool) -> None:
        history: Any = self.model.history
        history.bulk_history_create(rows, batch_size=batch_size, update=update, default_user=person_at_work())


class Audited(models.Model):
    """A business row: history of every change, and a version so that two people never overwrite each other.

    `version` rises by one with each save; a form sends back the version it was filled from (`keeping/conflict.py`).
    """

    version = models.PositiveIntegerField(default=0, editable=False)
    changed_at = models.DateTimeField(auto_now=True)
    history = HistoricalRecords(inherit=True)
    objects: ClassVar[Any] = AuditedQuerySet.as_manager()

    class Meta:
        """Shared by all business rows."""

        abstract = True

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Save with the next version; history is written by the signal of simple_history."""
        self.version += 1
        fields = kwargs.get("update_fields")
        if fields is not None:
            kwargs["update_fields"] = {*fields, "version", "changed_at"}
        super().save(*args, **kwargs)
