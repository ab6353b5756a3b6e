"""Tables that only grow, enforced by the database itself, on SQLite and on PostgreSQL.

A trigger refuses every UPDATE and DELETE (and TRUNCATE) whatever program asks. SQLite drops the triggers of a table
that a migration rebuilds, so they are made anew after every migrate, and `missing_triggers` tells whether one is gone.
"""

from __future__ import annotations

from typing import Final

from django.db.backends.base.base import BaseDatabaseWrapper

APPEND_ONLY_TABLES: Final = (
    "records_benchevent",
    "records_reading",
    "records_gasuse",
    "records_gaugereading",
    "records_morningcheck",
    "records_spancheck",
    "records_blob",
    "records_paper",
    "records_paperfile",
    "records_papermoment",
    "records_jobmoment",
    "records_clockevent",
    "records_steptime",
    "records_plan",
    "records_boxphoto",
    "records_referencefinding",
    "records_recomputedvisit",
    "records_dutyact",
    "records_stockmove",
)
_REFUSAL: Final = "append-only: what was recorded is never changed or removed; add a correction"
_VERBS: Final = ("UPDATE", "DELETE")


def make_append_only(connection: BaseDatabaseWrapper) -> None:
    """Make every trigger that is not there; a table that does not exist yet is left for the next migrate."""
    tables = set(connection.introspection.table_names())
    statements = _postgresql if connection.vendor == "postgresql" else _sqlite
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute(_POSTGRESQL_FUNCTION)
        for table in APPEND_ONLY_TABLES:
            if table in tables:
                for statement in statements(table):
                    cursor.execute(statement)


def missing_triggers(connection: BaseDatabaseWrapper) -> list[str]:
    """Return the names of triggers that should be there and are not; empty when all is well."""
    wanted = {trigger_name(table, verb) for table in APPEND_ONLY_TABLES for verb in verbs(connection.vendor)}
    query = (
        "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal AND tgenabled <> 'D'"
        if connection.vendor == "postgresql"
        else "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    )
    with connection.cursor() as cursor:
        cursor.execute(query)
        return sorted(wanted - {row[0] for row in cursor.fetchall()})


def verbs(vendor: str) -> tuple[str, ...]:
    """Return what is refused on this engine; SQLite knows no TRUNCATE."""
    return (*_VERBS, "TRUNCATE") if vendor == "postgresql" else _VERBS


def trigger_name(table: str, verb: str) -> str:
    """Return the name of the trigger that refuses one verb on one table."""
    return f"{table}_no_{verb.lower()}"


def _sqlite(table: str) -> list[str]:
    return [
        f'CREATE TRIGGER IF NOT EXISTS "{trigger_name(table, verb)}" BEFORE {verb} ON "{table}" '
        f"BEGIN SELECT RAISE(ABORT, '{_REFUSAL}'); END"
        for verb in _VERBS
    ]


_POSTGRESQL_FUNCTION: Final = f"""
CREATE OR REPLACE FUNCTION flueproof_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION '{_REFUSAL}' USING ERRCODE = 'integrity_constraint_violation'; END $$
"""


def _postgresql(table: str) -> list[str]:
    rows = [
        f'CREATE OR REPLACE TRIGGER "{trigger_name(table, verb)}" BEFORE {verb} ON "{table}" '
        f"FOR EACH ROW EXECUTE FUNCTION flueproof_append_only()"
        for verb in _VERBS
    ]
    emptying = (
        f'CREATE OR REPLACE TRIGGER "{trigger_name(table, "TRUNCATE")}" BEFORE TRUNCATE ON "{table}" '
        f"FOR EACH STATEMENT EXECUTE FUNCTION flueproof_append_only()"
    )
    return [*rows, emptying]
