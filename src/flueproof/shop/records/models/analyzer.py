"""Analyzers, their cells and what is due for them."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.keeping.field_words import gas_in_words
from flueproof.shop.records.keeping.plate_key import lookalike_key, plate_key
from flueproof.shop.records.models.owner import Owner


class Analyzer(Audited):
    """A portable flue-gas analyzer; the serial stands exactly as on the plate."""

    owner = models.ForeignKey(Owner, on_delete=models.PROTECT, related_name="analyzers")
    make = models.CharField(max_length=80)
    model = models.CharField(max_length=80)
    serial = models.CharField("serial number", max_length=60, help_text="Exactly as on the plate.")
    serial_key = models.CharField(max_length=60, editable=False, db_index=True)
    lookalike = models.CharField(max_length=60, editable=False, db_index=True)
    profile = models.CharField(
        max_length=80, default="two-cell-residential", help_text="Which service rules it follows."
    )
    firmware = models.CharField(max_length=40, blank=True)
    note = models.TextField(blank=True)
    WHEREABOUTS: ClassVar = [("", "with its owner or here"), ("lost", "reported lost"), ("stolen", "reported stolen")]
    whereabouts = models.CharField(max_length=8, choices=WHEREABOUTS, blank=True, default="")
    whereabouts_since = models.DateField("reported on", null=True, blank=True)
    whereabouts_words = models.CharField("who reported it, and what", max_length=300, blank=True)
    as_found_needed = models.BooleanField(
        "nothing but as found first",
        default=False,
        help_text="Set when it was lost or sold: how it was used is unknown.",
    )
    control_unit = models.BooleanField("the shop's own control analyzer", default=False)

    class Meta:
        """By serial."""

        ordering = ("serial", "id")
        constraints: ClassVar = [
            models.UniqueConstraint(fields=("make", "serial"), name="one_serial_per_make"),
        ]

    def __str__(self) -> str:
        """Return make, model and serial."""
        return f"{self.model} {self.serial}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Keep the keys with the serial."""
        self.fill_keys()
        if kwargs.get("update_fields") is not None:
            kwargs["update_fields"] = {*kwargs["update_fields"], "serial_key", "lookalike"}
        super().save(*args, **kwargs)

    def fill_keys(self) -> None:
        """Set the keys from the serial; a bulk write calls it itself."""
        self.serial_key, self.lookalike = plate_key(self.serial), lookalike_key(self.serial)


class Cell(Audited):
    """An electrochemical cell in an analyzer; a replaced one stays, with the day it came out."""

    analyzer = models.ForeignKey(Analyzer, on_delete=models.CASCADE, related_name="cells")
    gas = models.CharField(max_length=12)
    serial = models.CharField(max_length=60, blank=True)
    lot = models.CharField(max_length=40, blank=True)
    made = models.CharField(max_length=10, blank=True, help_text="Month or day, such as 2024-06.")
    fitted = models.DateField(null=True, blank=True)
    removed = models.DateField(null=True, blank=True)

    class Meta:
        """By gas."""

        ordering = ("gas", "id")

    def __str__(self) -> str:
        """Return gas and serial."""
        return f"{gas_in_words(self.gas)} cell {self.serial}".strip()


class Obligation(Audited):
    """Something due for an analyzer at an interval the owner agreed to; an analyzer can have several."""

    analyzer = models.ForeignKey(Analyzer, on_delete=models.CASCADE, related_name="obligations")
    what = models.CharField(max_length=80, default="yearly verification")
    months = models.PositiveSmallIntegerField(default=12)
    rule = models.CharField(max_length=12, choices=Owner.DUE_RULES, default="day")
    agreed_by = models.CharField("agreed by", max_length=120, blank=True)
    agreed_on = models.DateField(null=True, blank=True)
    last_done = models.DateField(null=True, blank=True)
    next_due = models.DateField(null=True, blank=True, db_index=True)

    class Meta:
        """The earliest first."""

        ordering = ("next_due", "id")

    def __str__(self) -> str:
        """Return what is due."""
        return self.what
