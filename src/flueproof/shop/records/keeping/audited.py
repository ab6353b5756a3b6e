"""Business rows whose every change is kept: who, when, from, to; bulk writes included."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, ClassVar, NoReturn

from django.db import models, transaction
from django.utils import timezone
from simple_history.models import HistoricalRecords


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

    def delete_with_history(self, by: Any, why: str) -> None:
        """Delete these rows, which nothing else may stand on, with one history row each; no signals are sent.

        by, why: who and the reason, for the history. Search keys of the rows are the caller's to remove.
        """
        history: Any = self.model.history
        kept, now = history.model, timezone.now()
        with transaction.atomic(using=self.db):
            rows = list(self)
            kept.objects.using(self.db).bulk_create(
                kept(
                    history_type="-",
                    history_date=now,
                    history_user=by,
                    history_change_reason=why,
                    **{field.attname: getattr(row, field.attname) for field in kept.tracked_fields},
                )
                for row in rows
            )
            plain: models.QuerySet[Any] = models.QuerySet(self.model, using=self.db)
            plain.filter(pk__in=[row.pk for row in rows])._raw_delete(self.db)  # noqa: SLF001 -- delete() sends signals

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
