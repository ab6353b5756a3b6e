"""`python -m django reindex`: write all search keys anew."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from flueproof.shop.records.finding.indexing import reindex_everything


class Command(BaseCommand):
    """Writes all search keys anew, from the rows themselves; needed only after a repair of the database by hand."""

    help = "Write all search keys anew."

    def handle(self, *_args: Any, **_options: Any) -> None:
        """Go through all kinds of rows and say how many there were."""
        reindex_everything(lambda kind, rows: self.stdout.write(f"{kind}: {rows} rows"))
