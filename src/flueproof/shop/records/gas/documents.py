"""Papers of a reference."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import transaction

from flueproof.shop.records.keeping.blobs import keep_blob
from flueproof.shop.records.models import Reference, ReferenceDocument


def keep_document(
    reference: Reference, title: str, file_name: str, content: bytes, media_type: str, by: Any, now: datetime
) -> ReferenceDocument:
    """Keep a paper with its reference and return it; the same file again is the paper that is there already."""
    with transaction.atomic():
        Reference.objects.select_for_update().get(pk=reference.pk)
        blob = keep_blob(content, media_type, now)
        found: ReferenceDocument | None = reference.documents.filter(blob=blob).first()
        if found is None:
            found = ReferenceDocument(reference=reference, title=title, file_name=file_name[-160:], blob=blob)
            found._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
            found.save()
    return found
