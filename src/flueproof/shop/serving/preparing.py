"""Before the first page: tables as this version needs them, guards in place, static files collected."""

from __future__ import annotations

import hashlib
from pathlib import Path

from django.conf import settings
from django.contrib.staticfiles import finders
from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from flueproof.shop.records.keeping.append_only import make_append_only, missing_triggers
from flueproof.shop.serving.errors import NewerDataError, UnguardedError

_UNUSED = "redoc*"  # a second reader of the API's description, larger than all our own files


def bring_up_to_date() -> bool:
    """Apply the migrations that are missing; return True when there were some.

    Raises: NewerDataError, UnguardedError.
    """
    executor = MigrationExecutor(connection)
    unknown = sorted(set(executor.loader.applied_migrations) - set(executor.loader.disk_migrations))
    ours = [name for app, name in unknown if app == "records"]
    if ours:
        raise NewerDataError(
            f"the data were written by a newer Flueproof ({', '.join(ours)} is not known here)",
            "Start the newer version, or restore a backup of this version into an empty folder.",
        )
    behind = bool(executor.migration_plan(executor.loader.graph.leaf_nodes()))
    if behind:
        call_command("migrate", verbosity=0, interactive=False)
    _guard()
    return behind


def _guard() -> None:
    if missing_triggers(connection):
        make_append_only(connection)  # a table rebuilt by hand; what it guards is checked by the hash chains
    if lost := missing_triggers(connection):
        raise UnguardedError(
            f"the database does not keep its append-only guards ({lost[0]} and {len(lost) - 1} more)",
            "Let the database user create triggers, and start again.",
        )


def collect_static() -> bool:
    """Collect the static files when any of them changed since the last time; return True when it did."""
    mark = Path(settings.STATIC_ROOT) / "collected"
    now = _static_mark()
    if mark.exists() and mark.read_text(encoding="utf-8") == now:
        return False
    call_command("collectstatic", verbosity=0, interactive=False, clear=True, ignore_patterns=[_UNUSED])
    mark.write_text(now, encoding="utf-8")
    return True


def _static_mark() -> str:
    """Return a hash over name, size and time of every static file."""
    lines = []
    for finder in finders.get_finders():
        for path, storage in finder.list([]):
            whole = Path(storage.path(path))
            lines.append(f"{path} {whole.stat().st_size} {whole.stat().st_mtime_ns}")
    return hashlib.sha256("\n".join(sorted(lines)).encode()).hexdigest()
