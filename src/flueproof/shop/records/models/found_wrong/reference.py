"""A reference of the shop's own that turned out wrong, and every visit that was judged with it, computed again."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.models.reference import Reference
from flueproof.shop.records.models.work.visit import Visit


class ReferenceFinding(models.Model):
    """What a reference is worth after all, since when, and how that was found. Append-only.

    content: the reference as it should have stood in the bench records (format of `Reference.content`); shift: of a
    thermometer, manometer or flow meter, what has to be added to the values it gave, in its own unit; since: the first
    day on which it was wrong, None where it was wrong from its first use.
    """

    reference = models.ForeignKey(Reference, on_delete=models.PROTECT, related_name="findings")
    content = models.JSONField()
    shift = models.FloatField("to be added to what it gave", default=0.0)
    since = models.DateField("wrong since", null=True, blank=True)
    how = models.TextField("how it was found")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return which."""
        return f"{self.reference.code} found wrong"


class RecomputedVisit(models.Model):
    """One visit as it would have been judged with the reference's right value. Append-only; the visit stays as it is.

    before, after: statements and values of the points that rest on the reference; changed: how many statements differ;
    danger: how many went from conform to anything else; trouble: why the visit could not be judged again, in words.
    """

    finding = models.ForeignKey(ReferenceFinding, on_delete=models.PROTECT, related_name="visits")
    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="recomputed")
    before = models.JSONField(default=dict)
    after = models.JSONField(default=dict)
    changed = models.PositiveSmallIntegerField(default=0)
    danger = models.PositiveSmallIntegerField(default=0)
    trouble = models.TextField(blank=True)
    at = models.DateTimeField()

    class Meta:
        """Danger first; each visit once per finding."""

        ordering = ("-danger", "-changed", "id")
        constraints: ClassVar = [
            models.UniqueConstraint(fields=("finding", "visit"), name="one_recomputation_per_finding_and_visit")
        ]

    def __str__(self) -> str:
        """Return which visit."""
        return f"{self.visit} again"
