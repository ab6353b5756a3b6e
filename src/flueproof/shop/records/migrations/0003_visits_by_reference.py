"""A withdrawn reference names the visits that it judged without reading every bench record."""

from django.db import migrations, models

from flueproof.shop.records.keeping.json_text import IdInJson


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0002_search_range_and_api_answers"),
    ]

    operations = [
        migrations.AddIndex(
            model_name="benchevent",
            index=models.Index(IdInJson("body"), name="visits_by_reference", condition=models.Q(kind="reference")),
        ),
    ]
