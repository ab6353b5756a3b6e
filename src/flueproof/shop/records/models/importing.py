"""Imports of lists the shop has: what was read, what it did, how to undo it."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from flueproof.shop.records.models.blob import Blob


class ColumnMapping(models.Model):
    """How the columns of a kind of file were understood, remembered by its header line."""

    header_sha256 = models.CharField(max_length=64, unique=True)
    mapping = models.JSONField()
    date_order = models.CharField(max_length=4, blank=True)
    changed_at = models.DateTimeField(auto_now=True)
    changed_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")

    def __str__(self) -> str:
        """Return the header's hash."""
        return self.header_sha256[:12]


class ImportRun(models.Model):
    """One import: the file, how it was understood, what it would do and did, and what undo must take back."""

    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="imports")
    file_name = models.CharField(max_length=160)
    blob = models.ForeignKey(Blob, on_delete=models.PROTECT, related_name="+")
    mapping = models.JSONField(default=dict)
    date_order = models.CharField(max_length=4, blank=True)
    found = models.JSONField(default=dict)
    done_at = models.DateTimeField(null=True, blank=True)
    undone_at = models.DateTimeField(null=True, blank=True)
    made = models.JSONField(default=dict)

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return the file's name."""
        return self.file_name
