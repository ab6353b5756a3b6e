"""Files in the database: photos, certificates of references, issued papers; once each, by their hash. Append-only."""

from __future__ import annotations

from django.db import models


class Blob(models.Model):
    """The bytes of one file. Its key is the SHA-256 of its content."""

    sha256 = models.CharField(max_length=64, primary_key=True)
    media_type = models.CharField(max_length=80)
    size = models.PositiveIntegerField()
    content = models.BinaryField()
    added_at = models.DateTimeField()

    def __str__(self) -> str:
        """Return the hash's beginning."""
        return self.sha256[:12]
