"""Photos of a box as it leaves: small, without what the camera wrote, each kept once."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from flueproof.shop.records.keeping.photos import keep_photo
from flueproof.shop.records.models import BoxPhoto, Job, Person

LEAVING = "pack-out"


def keep_leaving_photo(job: Job, content: bytes, words: str, by: Person, now: datetime) -> BoxPhoto:
    """Keep a photo of the box as it leaves; the same one again is the first. Raises: PhotoError."""
    with transaction.atomic():
        Job.objects.select_for_update().get(pk=job.pk)
        blob = keep_photo(content, now)
        standing: BoxPhoto | None = BoxPhoto.objects.filter(job=job, when=LEAVING, blob=blob).first()
        if standing is not None:
            return standing
        return BoxPhoto.objects.create(job=job, when=LEAVING, blob=blob, at=now, by=by, words=words.strip()[:200])


def leaving_photos(job: Job) -> list[BoxPhoto]:
    """Return the photos of a job's box as it left, without their bytes."""
    return list(BoxPhoto.objects.filter(job=job, when=LEAVING).order_by("id"))
