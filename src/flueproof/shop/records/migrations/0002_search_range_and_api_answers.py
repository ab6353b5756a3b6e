"""Search keys in the order of their bytes on both databases, and the answers kept for repeated API requests."""

import django.db.models.deletion
from django.db import migrations, models


def order_by_bytes(apps, schema_editor):
    """PostgreSQL orders text by the rules of a language; what begins with a text is a range only in byte order."""
    if schema_editor.connection.vendor == "postgresql":
        schema_editor.execute('ALTER TABLE records_searchkey ALTER COLUMN key TYPE varchar(64) COLLATE "C"')


def order_by_language(apps, schema_editor):
    if schema_editor.connection.vendor == "postgresql":
        schema_editor.execute('ALTER TABLE records_searchkey ALTER COLUMN key TYPE varchar(64) COLLATE "default"')


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0001_initial"),
    ]

    operations = [
        migrations.RunPython(order_by_bytes, order_by_language),
        migrations.AddIndex(
            model_name="searchkey",
            index=models.Index(fields=["kind", "key", "-weight", "-target"], name="search_range"),
        ),
        migrations.CreateModel(
            name="ApiAnswer",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(max_length=80)),
                ("request_sha256", models.CharField(max_length=64)),
                ("status", models.PositiveSmallIntegerField()),
                ("body", models.TextField()),
                ("at", models.DateTimeField(db_index=True)),
                (
                    "token",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="answers", to="records.apitoken"
                    ),
                ),
            ],
            options={
                "constraints": [models.UniqueConstraint(fields=("token", "key"), name="one_answer_per_key")],
            },
        ),
    ]
