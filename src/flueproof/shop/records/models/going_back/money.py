"""Prices and quotes: enough to ask an owner and to hand finished jobs to the books, and no more."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.job import Job


class PriceItem(Audited):
    """A line of the price list."""

    KINDS: ClassVar = [("service", "service"), ("part", "part"), ("work", "work"), ("shipping", "shipping")]

    code = models.CharField(max_length=40, unique=True)
    words = models.CharField(max_length=200)
    kind = models.CharField(max_length=12, choices=KINDS, default="service")
    price = models.DecimalField(max_digits=9, decimal_places=2)
    service = models.CharField("for which service", max_length=16, choices=Job.SERVICES, blank=True)
    model = models.CharField("for which model", max_length=80, blank=True)
    in_use = models.BooleanField(default=True)

    class Meta:
        """By kind and words."""

        ordering = ("kind", "words", "id")

    def __str__(self) -> str:
        """Return the words."""
        return self.words


class Quote(Audited):
    """What a job will cost, as the owner is asked; a changed quote is a new one that names the old."""

    STATES: ClassVar = [
        ("draft", "not sent"),
        ("sent", "sent, no answer yet"),
        ("approved", "approved"),
        ("declined", "declined"),
        ("expired", "not answered in time"),
        ("replaced", "replaced by another"),
    ]

    number = models.CharField(max_length=20, unique=True)
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="quotes")
    state = models.CharField(max_length=12, choices=STATES, default="draft")
    currency = models.CharField(max_length=3, default="USD")
    words = models.TextField("what is to be done and why", blank=True)
    replaces = models.ForeignKey("self", null=True, blank=True, on_delete=models.PROTECT, related_name="replaced_by")
    made_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)
    valid_until = models.DateField(null=True, blank=True)
    decided_at = models.DateTimeField(null=True, blank=True)
    decided_by = models.CharField(max_length=120, blank=True)
    decision_words = models.TextField(blank=True)

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return the number."""
        return self.number


class QuoteLine(Audited):
    """One line of a quote; the price stands as it was when it was written."""

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="lines")
    item = models.ForeignKey(PriceItem, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    words = models.CharField(max_length=200)
    count = models.DecimalField(max_digits=7, decimal_places=2, default=1)
    price = models.DecimalField("price each", max_digits=9, decimal_places=2)

    class Meta:
        """In the order in which they were written."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return the words."""
        return self.words
