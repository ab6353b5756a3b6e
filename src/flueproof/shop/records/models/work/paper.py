"""Papers that left the shop, as they were: certificates, bench reports, stickers, tags. Append-only."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from flueproof.shop.records.models.blob import Blob
from flueproof.shop.records.models.job import Job
from flueproof.shop.records.models.work.visit import Visit


class Paper(models.Model):
    """One issue of a paper: number, signer, what it rests on. An amended one is a new one that names the old.

    kind: `certificate` or `bench-report`; record_hash: hash of the visit's last event row that was judged;
    judgement: the whole judgement; rules: version of the judging rules. Source: ISO/IEC 17025:2017, 7.8.8.
    """

    number = models.CharField(max_length=40, unique=True)
    kind = models.CharField(max_length=20)
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="papers")
    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="papers")
    outcome = models.CharField(max_length=40)
    record_position = models.PositiveIntegerField()
    record_hash = models.CharField(max_length=64)
    record = models.TextField()
    judgement = models.JSONField()
    rules = models.CharField(max_length=40)
    issued_on = models.DateField()
    signed_at = models.DateTimeField()
    signer = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    signer_name = models.CharField(max_length=150)
    due_on = models.DateField(null=True, blank=True)
    amends = models.OneToOneField("self", null=True, blank=True, on_delete=models.PROTECT, related_name="amended_by")
    amended_why = models.TextField(blank=True)

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return the number."""
        return self.number


class PaperFile(models.Model):
    """One file of an issue (certificate.pdf, sticker.pdf, sticker.zpl, tag.pdf, judgement.json, record.json)."""

    paper = models.ForeignKey(Paper, on_delete=models.PROTECT, related_name="files")
    name = models.CharField(max_length=60)
    blob = models.ForeignKey(Blob, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """In the order in which they were made."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return the file's name."""
        return self.name


class PaperMoment(models.Model):
    """What happened to a paper after it was issued: printed, sticker printed again, handed over, found tampered."""

    paper = models.ForeignKey(Paper, on_delete=models.PROTECT, related_name="moments")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")
    what = models.CharField(max_length=40)
    why = models.CharField(max_length=200, blank=True)

    class Meta:
        """In time order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return what happened."""
        return self.what
