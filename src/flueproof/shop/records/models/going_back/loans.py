"""Loan units: the shop's own analyzers that an owner works with while theirs is here."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.analyzer import Analyzer
from flueproof.shop.records.models.job import Job
from flueproof.shop.records.models.owner import Owner


class LoanUnit(Audited):
    """An analyzer of the shop's own that can be lent."""

    analyzer = models.OneToOneField(Analyzer, on_delete=models.PROTECT, related_name="loan_unit")
    name = models.CharField("what the shop calls it", max_length=40, unique=True)
    enclosed = models.JSONField("what goes with it", default=list, blank=True)
    usable = models.BooleanField("may be lent", default=True)
    note = models.TextField(blank=True)

    class Meta:
        """By name."""

        ordering = ("name",)

    def __str__(self) -> str:
        """Return the name."""
        return self.name


class Loan(Audited):
    """One time that a unit was out, checked on gas before it left and when it was back.

    gas_out, gas_back: {"O2": {"gas": ..., "read": ...}, "CO": ...} and whether the shop called it good.
    """

    unit = models.ForeignKey(LoanUnit, on_delete=models.PROTECT, related_name="loans")
    owner = models.ForeignKey(Owner, on_delete=models.PROTECT, related_name="loans")
    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.PROTECT, related_name="loans")
    given_to = models.CharField(max_length=120, blank=True)
    out_at = models.DateTimeField()
    out_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    until = models.DateField("to be back on")
    gas_out = models.JSONField(default=dict, blank=True)
    reminded_at = models.DateTimeField(null=True, blank=True)
    back_at = models.DateTimeField(null=True, blank=True)
    gas_back = models.JSONField(default=dict, blank=True)
    condition_back = models.CharField(max_length=300, blank=True)

    class Meta:
        """The newest first; a unit is out once at most."""

        ordering = ("-id",)
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=("unit",), condition=models.Q(back_at__isnull=True), name="one_running_loan_per_unit"
            )
        ]

    def __str__(self) -> str:
        """Return unit and owner."""
        return f"{self.unit} at {self.owner}"
