"""Search keys: words and word endings that lead to a row, for both databases alike."""

from __future__ import annotations

from typing import ClassVar

from django.db import models


class SearchKey(models.Model):
    """One key of one row. A search is a range of keys: what begins with the typed text.

    kind: owner, contact, analyzer, job, paper or reference; target: primary key there; weight: higher comes first.
    """

    key = models.CharField(max_length=64)
    kind = models.CharField(max_length=12)
    target = models.BigIntegerField()
    weight = models.SmallIntegerField(default=0)

    class Meta:
        """By key, in the order of the bytes (on PostgreSQL the migration gives the column the collation "C")."""

        indexes: ClassVar = [
            models.Index(fields=("kind", "target"), name="search_of_row"),
            models.Index(fields=("kind", "key", "-weight", "-target"), name="search_range"),
        ]

    def __str__(self) -> str:
        """Return key and target."""
        return f"{self.key} -> {self.kind} {self.target}"
