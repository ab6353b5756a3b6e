"""A kind of part as the shop buys, keeps and fits it."""

from __future__ import annotations

from typing import ClassVar

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from flueproof.shop.records.keeping.audited import Audited

_DAYS: list[MaxValueValidator] = [MaxValueValidator(3 * 365)]


class Part(Audited):
    """A kind of part: what it fits, how long it keeps, how it is bought.

    code: what the shop calls it and prints; scan_code: the barcode on its package; profiles, models: what it fits, an
    empty list does not restrict; firmware: the oldest firmware that knows it, with the way there in words.
    """

    KINDS: ClassVar = [
        ("cell", "cell"),
        ("path", "hose, trap, probe, seal"),
        ("filter", "filter"),
        ("pump", "pump"),
        ("sensor", "thermocouple or other sensor"),
        ("power", "battery, charger"),
        ("paper", "printer paper, stickers"),
        ("other", "other"),
    ]

    code = models.CharField("code", max_length=40, unique=True, help_text="What the shop calls it.")
    title = models.CharField(
        "what it is", max_length=120, help_text="As it shall stand in the record: co cell, pump, probe hose ..."
    )
    kind = models.CharField(max_length=8, choices=KINDS, default="other")
    scan_code = models.CharField("barcode on the package", max_length=80, blank=True, db_index=True)
    profiles = models.JSONField("fits the profiles", default=list, blank=True)
    models_fitted = models.JSONField("fits the models", default=list, blank=True)
    firmware = models.CharField(
        "firmware needed", max_length=40, blank=True, help_text="The oldest that knows this part, such as 2.4."
    )
    firmware_way = models.TextField("the way to that firmware", blank=True)
    shelf_months = models.PositiveSmallIntegerField(
        "shelf life [months]",
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(240)],
        help_text="From the day of manufacture. Empty where it does not age.",
    )
    supplier = models.CharField(max_length=120, blank=True)
    order_number = models.CharField("supplier's number", max_length=60, blank=True)
    lead_days = models.PositiveSmallIntegerField("usual lead time [days]", default=10, validators=_DAYS)
    late_days = models.PositiveSmallIntegerField(
        "lead time when late [days]", default=0, validators=_DAYS, help_text="About one order in five; 0 for never."
    )
    pack = models.PositiveSmallIntegerField("sold in packs of", default=1, validators=[MinValueValidator(1)])
    least_order = models.PositiveSmallIntegerField("smallest order", default=1, validators=[MinValueValidator(1)])
    price = models.DecimalField("price paid", max_digits=9, decimal_places=2, null=True, blank=True)
    guess_a_year = models.FloatField(
        "use expected a year",
        default=4.0,
        validators=[MinValueValidator(0.1), MaxValueValidator(5000.0)],
        help_text="A guess; what is really used soon outweighs it.",
    )
    place = models.CharField("where it lies", max_length=80, blank=True)
    note = models.TextField(blank=True)
    in_use = models.BooleanField("still bought", default=True)

    class Meta:
        """By kind and code."""

        ordering = ("kind", "code", "id")

    def __str__(self) -> str:
        """Return code and what it is."""
        return f"{self.code} {self.title}"
