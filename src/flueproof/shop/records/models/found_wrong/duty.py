"""Duties: an owner who must be told that an analyzer, or what it was checked with, was found wrong."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.analyzer import Analyzer
from flueproof.shop.records.models.found_wrong.reference import ReferenceFinding
from flueproof.shop.records.models.mailing.letter import Letter
from flueproof.shop.records.models.owner import Owner
from flueproof.shop.records.models.work.visit import Visit


class Duty(Audited):
    """One thing an owner must be told. It ends when somebody told them, or when somebody says why it need not be.

    facts: what was found, as computed when the duty arose (channels, direction, size, with uncertainty); key: what it
    rests on, so that the same finding never makes two; due_on: the day by which the owner is to know.
    """

    KINDS: ClassVar = [
        ("co-low", "CO read low"),
        ("as-found", "found outside its limits"),
        ("reference", "checked with a reference that was wrong"),
    ]
    STATES: ClassVar = [
        ("open", "owner not told"),
        ("told", "owner told"),
        ("not-needed", "need not be told"),
        ("overtaken", "overtaken by a later finding"),
    ]

    kind = models.CharField(max_length=12, choices=KINDS)
    key = models.CharField(max_length=80, unique=True)
    state = models.CharField(max_length=12, choices=STATES, default="open", db_index=True)
    owner = models.ForeignKey(Owner, on_delete=models.PROTECT, related_name="duties")
    analyzer = models.ForeignKey(Analyzer, on_delete=models.PROTECT, related_name="duties")
    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="duties")
    finding = models.ForeignKey(
        ReferenceFinding, null=True, blank=True, on_delete=models.PROTECT, related_name="duties"
    )
    facts = models.JSONField(default=dict)
    arose_at = models.DateTimeField()
    due_on = models.DateField(db_index=True)
    why_not = models.TextField("why the owner need not be told", blank=True)

    class Meta:
        """The most urgent first."""

        ordering = ("due_on", "id")

    def __str__(self) -> str:
        """Return kind and owner."""
        return f"{self.get_kind_display()}: {self.owner}"


class DutyAct(models.Model):
    """One try at telling an owner: who, when, how, whom, and whether they know now. Append-only."""

    WAYS: ClassVar = [
        ("phone", "by phone"),
        ("e-mail", "by e-mail"),
        ("letter", "by letter"),
        ("in-person", "in person"),
        ("not-reached", "tried, not reached"),
        ("note", "a note"),
    ]

    duty = models.ForeignKey(Duty, on_delete=models.PROTECT, related_name="acts")
    way = models.CharField(max_length=12, choices=WAYS)
    whom = models.CharField("who was told", max_length=120, blank=True)
    words = models.TextField(blank=True)
    letter = models.ForeignKey(Letter, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """In the order in which it happened."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return how."""
        return self.get_way_display()
