"""A job is on hold for the owner, for a failed morning check or for another reason: what it waits for says which."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0003_visits_by_reference"),
    ]

    operations = [
        migrations.AlterField(
            model_name="historicaljob",
            name="state",
            field=models.CharField(
                choices=[
                    ("requested", "asked for, box not here"),
                    ("arrived", "here, not on the bench"),
                    ("bench", "on the bench"),
                    ("held", "on hold"),
                    ("parts", "waiting for parts"),
                    ("to-sign", "ready to sign"),
                    ("to-return", "signed, to go back"),
                    ("returned", "returned"),
                    ("dropped", "dropped"),
                ],
                default="requested",
                max_length=12,
            ),
        ),
        migrations.AlterField(
            model_name="job",
            name="state",
            field=models.CharField(
                choices=[
                    ("requested", "asked for, box not here"),
                    ("arrived", "here, not on the bench"),
                    ("bench", "on the bench"),
                    ("held", "on hold"),
                    ("parts", "waiting for parts"),
                    ("to-sign", "ready to sign"),
                    ("to-return", "signed, to go back"),
                    ("returned", "returned"),
                    ("dropped", "dropped"),
                ],
                default="requested",
                max_length=12,
            ),
        ),
    ]
