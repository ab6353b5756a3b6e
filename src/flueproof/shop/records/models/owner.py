"""Owners: the contractors (firms) that analyzers belong to, with their people and addresses."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.keeping.plate_key import name_key, phone_key


class Owner(Audited):
    """A firm, and what it agreed to: due dates only where it said so (ISO/IEC 17025, 7.8.4.3)."""

    DUE_RULES: ClassVar = [("day", "to the day"), ("month-end", "end of the month")]
    DECISION_RULES: ClassVar = [
        ("risk-2", "at most 2 % false accepts over all (default)"),
        ("simple", "the value alone decides"),
        ("guarded-U", "limit less the full uncertainty"),
        ("specific-2", "at most 2 % risk at each point"),
    ]

    name = models.CharField(max_length=200)
    name_key = models.CharField(max_length=200, editable=False, db_index=True)
    number = models.CharField("customer number", max_length=40, blank=True)
    due_agreed = models.BooleanField("wants a due date on papers", default=False)
    due_months = models.PositiveSmallIntegerField("months between checks", default=12)
    due_rule = models.CharField("due", max_length=12, choices=DUE_RULES, default="day")
    decision_rule = models.CharField(max_length=12, choices=DECISION_RULES, default="risk-2")
    call_first = models.BooleanField("call before anything is adjusted when found outside limits", default=False)
    promise_days = models.PositiveSmallIntegerField(
        "own promise [business days]", null=True, blank=True, help_text="Empty: the shop's own days."
    )
    pays_first = models.BooleanField("boxes go back only when paid", default=False)
    no_letters = models.BooleanField("wants no e-mail", default=False)
    note = models.TextField(blank=True)
    merged_into = models.ForeignKey("self", null=True, blank=True, on_delete=models.PROTECT, related_name="merged_from")

    class Meta:
        """By name."""

        ordering = ("name", "id")

    def __str__(self) -> str:
        """Return the firm's name."""
        return self.name

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Keep the key with the name."""
        self.name_key = name_key(self.name)
        if kwargs.get("update_fields") is not None:
            kwargs["update_fields"] = {*kwargs["update_fields"], "name_key"}
        super().save(*args, **kwargs)


class OwnerContact(Audited):
    """A person of an owner."""

    owner = models.ForeignKey(Owner, on_delete=models.CASCADE, related_name="contacts")
    name = models.CharField(max_length=120)
    phone = models.CharField(max_length=40, blank=True)
    phone_key = models.CharField(max_length=40, editable=False, db_index=True, blank=True)
    email = models.EmailField(blank=True)
    duty = models.CharField("what for", max_length=80, blank=True)

    class Meta:
        """By name."""

        ordering = ("name", "id")

    def __str__(self) -> str:
        """Return the person's name."""
        return self.name

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Keep the key with the phone number."""
        self.phone_key = phone_key(self.phone)
        super().save(*args, **kwargs)


class OwnerAddress(Audited):
    """An address of an owner."""

    owner = models.ForeignKey(Owner, on_delete=models.CASCADE, related_name="addresses")
    label = models.CharField("what for", max_length=60, blank=True)
    lines = models.TextField("street")
    postcode = models.CharField(max_length=20, blank=True)
    town = models.CharField(max_length=80, blank=True)
    region = models.CharField(max_length=80, blank=True)
    country = models.CharField(max_length=60, blank=True)

    class Meta:
        """In the order in which they were added."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return the address on one line."""
        return ", ".join(self.as_lines())

    def as_lines(self) -> list[str]:
        """Return the address as lines for a paper."""
        place = " ".join(part for part in (self.town, self.region, self.postcode) if part)
        return [line for line in (*self.lines.splitlines(), place, self.country) if line.strip()]
