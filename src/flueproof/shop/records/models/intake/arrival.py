"""Boxes that came, calls that were taken, and what the shop must ask an owner."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.analyzer import Analyzer
from flueproof.shop.records.models.blob import Blob
from flueproof.shop.records.models.job import Job
from flueproof.shop.records.models.owner import Owner


class Arrival(Audited):
    """One analyzer out of one box on the counter, known by its slip or recognised by clues.

    clues: what was read off box and plate, as typed; weighed: what the ranking said when somebody took a candidate.
    box: the same text for analyzers out of one box.
    """

    STATES: ClassVar = [
        ("open", "not known yet"),
        ("known", "known"),
        ("stranger", "none on file: owner to be found"),
        ("mistake", "entered by mistake"),
    ]

    state = models.CharField(max_length=12, choices=STATES, default="open", db_index=True)
    box = models.CharField(max_length=40, blank=True, db_index=True)
    came_at = models.DateTimeField(db_index=True)
    received_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    slip = models.CharField("slip that was scanned", max_length=40, blank=True)
    clues = models.JSONField(default=dict, blank=True)
    weighed = models.JSONField(default=dict, blank=True)
    analyzer = models.ForeignKey(Analyzer, null=True, blank=True, on_delete=models.PROTECT, related_name="arrivals")
    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.PROTECT, related_name="arrivals")
    carrier = models.CharField(max_length=80, blank=True)
    note = models.TextField(blank=True)

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return its number on the counter."""
        return f"box {self.pk}"


class BoxPhoto(models.Model):
    """A photo of a box and its content, coming or going; made small, without EXIF. Append-only."""

    WHEN: ClassVar = [("arrival", "as it came"), ("pack-out", "as it left"), ("loan", "of a loan unit")]

    arrival = models.ForeignKey(Arrival, null=True, blank=True, on_delete=models.PROTECT, related_name="photos")
    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.PROTECT, related_name="box_photos")
    blob = models.ForeignKey(Blob, on_delete=models.PROTECT, related_name="+")
    when = models.CharField(max_length=12, choices=WHEN, default="arrival")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    words = models.CharField("what it shows", max_length=200, blank=True)

    class Meta:
        """In time order."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return what it shows."""
        return self.words or self.get_when_display()


class PhoneCall(Audited):
    """A call that the counter took: who called about what; it helps to recognise a box that comes without a name."""

    at = models.DateTimeField(db_index=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    caller = models.CharField(max_length=120, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    phone_key = models.CharField(max_length=40, editable=False, db_index=True, blank=True)
    owner = models.ForeignKey(Owner, null=True, blank=True, on_delete=models.PROTECT, related_name="calls")
    analyzer = models.ForeignKey(Analyzer, null=True, blank=True, on_delete=models.PROTECT, related_name="calls")
    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.PROTECT, related_name="calls")
    said = models.TextField("what it was about", blank=True)

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return who called."""
        return self.caller or self.phone


class OwnerQuestion(Audited):
    """What the shop must know or get from the owner before it can go on; answered by link, phone or at the counter.

    choices: the answers that a link offers (empty: words only); stops: the promise clock stands while it is open.
    """

    KINDS: ClassVar = [
        ("missing-part", "something is missing from the box"),
        ("paperwork", "something is missing from the paperwork"),
        ("call-first", "found outside limits: what now"),
        ("other", "a question"),
    ]
    STATES: ClassVar = [("open", "not answered"), ("answered", "answered"), ("withdrawn", "withdrawn")]

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="questions")
    kind = models.CharField(max_length=16, choices=KINDS, default="other")
    subject = models.CharField("what it is about", max_length=120, blank=True)
    words = models.TextField("the question")
    choices = models.JSONField(default=list, blank=True)
    state = models.CharField(max_length=12, choices=STATES, default="open")
    stops = models.BooleanField("the clock stands until it is answered", default=True)
    asked_at = models.DateTimeField()
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_by = models.CharField(max_length=120, blank=True)
    answer = models.TextField(blank=True)

    class Meta:
        """In the order in which they were asked."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return the question."""
        return self.words
