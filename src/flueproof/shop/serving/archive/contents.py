"""What an archive holds: the models, in an order that can be read back, and how a row is written."""

from __future__ import annotations

import json
from typing import Any, Final

from django.apps import apps
from django.core.serializers.json import DjangoJSONEncoder
from django.db import connections, models
from django.db.migrations.recorder import MigrationRecorder

FORMAT: Final = "flueproof-backup/1"
# What each start makes anew, or what is worth nothing in another place: sign-ins, counts of wrong passwords.
LEFT_OUT: Final = frozenset({"contenttypes", "sessions", "axes"})
_LEFT_OUT_MODELS: Final = frozenset({"auth.permission", "auth.group_permissions", "records.person_user_permissions"})


def archived_models() -> list[type[models.Model]]:
    """Return every model whose rows belong into a backup, by label."""
    found = [
        model
        for model in apps.get_models(include_auto_created=True)
        if model._meta.app_label not in LEFT_OUT  # noqa: SLF001 -- Django's documented model API
        and model._meta.label_lower not in _LEFT_OUT_MODELS  # noqa: SLF001
        and model._meta.managed  # noqa: SLF001
        and not model._meta.proxy  # noqa: SLF001
    ]
    return sorted(found, key=lambda model: model._meta.label_lower)  # noqa: SLF001


def row_as_line(row: models.Model) -> bytes:
    """Return a row as one line of JSON: column name -> value, in the model's order; times in UTC."""
    values = {field.attname: _plain(field, field.value_from_object(row)) for field in row._meta.concrete_fields}  # noqa: SLF001
    return json.dumps(values, cls=ExactEncoder, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


def _plain(field: models.Field[Any, Any], value: Any) -> Any:
    if isinstance(field, models.BinaryField) and value is not None:
        return bytes(value).hex()
    return value


class ExactEncoder(DjangoJSONEncoder):
    """Django's encoder with microseconds kept: a chain of hashes rests on them."""

    def default(self, o: Any) -> Any:
        """Return times whole; the rest as Django does."""
        if hasattr(o, "isoformat"):
            return o.isoformat()
        return super().default(o)


def line_as_row(model: type[models.Model], line: bytes) -> models.Model:
    """Return the row that a line describes, not saved."""
    values = json.loads(line)
    fields = {field.attname: field for field in model._meta.concrete_fields}  # noqa: SLF001
    return model(**{name: _typed(fields[name], value) for name, value in values.items()})


def _typed(field: models.Field[Any, Any], value: Any) -> Any:
    if value is None or isinstance(field, models.JSONField | models.ForeignKey):
        return value
    if isinstance(field, models.BinaryField):
        return bytes.fromhex(value)
    return field.to_python(value)


def schema_of(alias: str) -> list[str]:
    """Return the migrations a database has, as app/name."""
    applied = MigrationRecorder(connections[alias]).applied_migrations()
    return sorted(f"{app}/{name}" for app, name in applied)
