"""References: cylinders of test gas, thermometers, manometers and what else an analyzer is compared with."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.blob import Blob


class Reference(Audited):
    """A reference with its certificate values, as the bench record needs them (`content`), and where it stands.

    code: what the scanner reads from its label; kind: as in the bench record (`test-gas`, `thermometer`, `manometer`,
    `flow-meter` ...); content: the reference as it goes into a bench record, format 1.
    """

    STATES: ClassVar = [
        ("new", "new, not yet checked against the old one"),
        ("in-use", "in use"),
        ("empty", "empty"),
        ("withdrawn", "withdrawn"),
    ]

    code = models.CharField("scan code", max_length=60, unique=True)
    kind = models.CharField(max_length=20)
    title = models.CharField("what it is", max_length=120)
    content = models.JSONField()
    state = models.CharField(max_length=12, choices=STATES, default="new")
    withdrawn_why = models.TextField("why withdrawn", blank=True)
    good_until = models.DateField("expires or next due", null=True, blank=True, db_index=True)
    water_volume_l = models.FloatField("water volume [L]", null=True, blank=True)
    fill_kpa = models.FloatField("gauge when new [kPa]", null=True, blank=True)
    minimum_kpa = models.FloatField("do not use below [kPa]", default=690.0)
    price = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    place = models.CharField("where it stands", max_length=80, blank=True)
    replaces = models.ForeignKey("self", null=True, blank=True, on_delete=models.PROTECT, related_name="replaced_by")

    class Meta:
        """By code."""

        ordering = ("kind", "code")

    def __str__(self) -> str:
        """Return code and title."""
        return f"{self.code} {self.title}"

    def as_in_record(self) -> dict[str, Any]:
        """Return the reference as it goes into a bench record."""
        return dict(self.content)


class ReferenceDocument(Audited):
    """A certificate or other paper of a reference."""

    reference = models.ForeignKey(Reference, on_delete=models.CASCADE, related_name="documents")
    title = models.CharField(max_length=120)
    file_name = models.CharField(max_length=160)
    blob = models.ForeignKey(Blob, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return the title."""
        return self.title
