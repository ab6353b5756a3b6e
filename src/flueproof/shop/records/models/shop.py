"""The shop itself: its name and rules, its stations, its running numbers."""

from __future__ import annotations

import datetime as dt
from typing import Any, ClassVar

from django.db import models

from flueproof.shop.records.keeping.audited import Audited


def _working_days() -> list[int]:
    return [0, 1, 2, 3, 4]


def _promised_days() -> dict[str, int]:
    """Return business days per service; `repair-extra` comes on top when an analyzer turns out to need repair."""
    return {"verify": 5, "verify-adjust": 5, "call-first": 5, "repair": 7, "repair-extra": 2}


def _all_kinds() -> list[str]:
    return ["gas", "temperature", "draft"]


def _no_lines() -> list[str]:
    return []


class Shop(Audited):
    """One row: name and address as on papers, and the rules the shop set itself."""

    PAPERS: ClassVar = [("letter", "Letter"), ("a4", "A4")]
    PAPER_UNITS: ClassVar = [("us", "°F and inH₂O"), ("si", "°C and Pa")]

    name = models.CharField(max_length=150, default="Our test bench")
    address = models.JSONField(default=_no_lines, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField("e-mail that letters come from", blank=True)
    public_address = models.URLField("address of these pages as owners reach them", blank=True)
    PROMISE_MEANS: ClassVar = [("ready", "ready to go back"), ("delivered", "delivered to its owner")]
    country = models.CharField("holidays of country", max_length=2, default="US")
    region = models.CharField("holidays of state or region", max_length=10, blank=True)
    working_days = models.JSONField("days worked, Monday is 0", default=_working_days)
    opens_at = models.TimeField("opens", default=dt.time(8, 0))
    closes_at = models.TimeField("closes", default=dt.time(17, 0))
    cut_off_at = models.TimeField("what comes later counts from the next day", default=dt.time(15, 0))
    promised_days = models.JSONField("business days promised", default=_promised_days)
    promise_means = models.CharField(max_length=12, choices=PROMISE_MEANS, default="ready")
    transit_days = models.PositiveSmallIntegerField("business days on the way back", default=2)
    quote_valid_days = models.PositiveSmallIntegerField("days a quote stands", default=14)
    unclaimed_after_days = models.PositiveSmallIntegerField("days until a box counts as unclaimed", default=30)
    comeback_days = models.PositiveSmallIntegerField("days in which a return counts as a comeback", default=60)
    currency = models.CharField(max_length=3, default="USD")
    public_requests = models.BooleanField("owners may send requests without an account", default=True)
    method = models.CharField("method on certificates", max_length=80, default="FGA-1")
    time_zone = models.CharField(max_length=60, default="America/New_York")
    paper_size = models.CharField(max_length=8, choices=PAPERS, default="letter")
    paper_units = models.CharField("units on papers", max_length=4, choices=PAPER_UNITS, default="us")
    sticker_size = models.CharField(max_length=20, default="50x30")
    link = models.CharField("address in the sticker's code", max_length=120, blank=True)
    signers_may_sign_own_work = models.BooleanField(default=True)
    morning_check_needed = models.BooleanField("no bench work before the morning check", default=True)
    gas_budget_l = models.FloatField("gas budget of a visit [L]", default=20.0)
    room_co_alarm_ppm = models.FloatField("stop work at room CO of [ppm]", default=9.0)

    def __str__(self) -> str:
        """Return the name."""
        return self.name

    @classmethod
    def here(cls) -> Shop:
        """Return the shop's one row, made with defaults when it is not there yet."""
        row: Shop | None = cls.objects.order_by("pk").first()
        if row is None:
            row, _ = cls.objects.get_or_create(pk=1)
        return row


class Station(Audited):
    """A place at the bench where one analyzer lies; a capture agent may stand beside it."""

    name = models.CharField(max_length=40, unique=True)
    kinds = models.JSONField("what can be done here", default=_all_kinds)
    in_use = models.BooleanField(default=True)
    agent = models.CharField("capture agent's id", max_length=64, blank=True, db_index=True)

    class Meta:
        """By name."""

        ordering = ("name",)

    def __str__(self) -> str:
        """Return the name."""
        return self.name


class Numbering(models.Model):
    """The last number given out for a prefix and year."""

    prefix = models.CharField(max_length=8)
    year = models.PositiveSmallIntegerField()
    last = models.PositiveIntegerField(default=0)

    class Meta:
        """One row each."""

        constraints: ClassVar[list[Any]] = [
            models.UniqueConstraint(fields=("prefix", "year"), name="one_numbering_per_year")
        ]

    def __str__(self) -> str:
        """Return prefix, year and last number."""
        return f"{self.prefix}-{self.year}-{self.last}"
