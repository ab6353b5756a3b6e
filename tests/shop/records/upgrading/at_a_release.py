"""A database as a release left it: its migrations and no later ones, the rows of a file that it wrote, its guards.

Runs as a program in a process whose Django is set up for an empty database; says on standard output what it did.
"""

import json
import zipfile

from django.core.management.color import no_style
from django.db import connection, models, transaction
from django.db.migrations.executor import MigrationExecutor

from flueproof.shop.records.keeping.append_only import make_append_only
from flueproof.shop.serving.archive.contents import line_as_row, row_as_line


def manifest_of(archive):
    return json.loads(archive.read("manifest.json"))


def migrate_to(schema):
    """Apply the named migrations and no other; return the models of that time."""
    last = {}
    for name in sorted(schema):
        app, migration = name.split("/")
        last[app] = (app, migration)
    executor = MigrationExecutor(connection)
    executor.migrate(list(last.values()))
    return MigrationExecutor(connection).loader.project_state(list(last.values())).apps


def fill(archive, manifest, apps):
    """Write the rows of the file through the models of that time."""
    filled = [apps.get_model(label) for label, said in manifest["tables"].items() if said["rows"]]
    with transaction.atomic(), connection.constraint_checks_disabled():
        for model in filled:
            for field in model._meta.concrete_fields:
                if getattr(field, "auto_now", False) or getattr(field, "auto_now_add", False):
                    field.auto_now = field.auto_now_add = False  # the model is thrown away afterwards
            lines = archive.read(f"tables/{model._meta.label_lower}.jsonl").splitlines()
            models.QuerySet(model).bulk_create([line_as_row(model, line) for line in lines])
        connection.check_constraints()
        with connection.cursor() as cursor:
            for statement in connection.ops.sequence_reset_sql(no_style(), filled):
                cursor.execute(statement)


def load(path):
    """Make the database what it was when the file was written."""
    with zipfile.ZipFile(path) as archive:
        manifest = manifest_of(archive)
        fill(archive, manifest, migrate_to(manifest["schema"]))
    make_append_only(connection)


def rows_of(path):
    """Return the rows of a file: table -> list of column -> value."""
    with zipfile.ZipFile(path) as archive:
        tables = manifest_of(archive)["tables"]
        return {
            label: [json.loads(line) for line in archive.read(f"tables/{label}.jsonl").splitlines()]
            for label, said in tables.items()
            if said["rows"]
        }


def rows_now(tables):
    """Return the rows that the named tables have today, all columns."""
    from django.apps import apps

    found = {}
    for label in tables:
        rows = models.QuerySet(apps.get_model(label)).order_by("pk")
        found[label] = [json.loads(row_as_line(row)) for row in rows]
    return found


def shape():
    """Return tables with their columns and indexes as the database itself tells them, to compare two databases."""
    found = {}
    with connection.cursor() as cursor:
        for table in sorted(connection.introspection.table_names(cursor)):
            columns = connection.introspection.get_table_description(cursor, table)
            constraints = connection.introspection.get_constraints(cursor, table)
            found[table] = {
                "columns": sorted(
                    [one.name, str(one.type_code), str(one.internal_size), str(one.null_ok), str(one.collation)]
                    for one in columns
                ),
                "constraints": sorted(
                    json.dumps({key: value for key, value in one.items() if key != "definition"}, default=str)
                    for one in constraints.values()
                ),
                "indexes": sorted(name for name, one in constraints.items() if one["index"]),
            }
    return found
