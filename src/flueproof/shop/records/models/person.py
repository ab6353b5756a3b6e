"""People who sign in: the shop's own, and owners who see their own analyzers."""

from __future__ import annotations

from typing import Any, ClassVar

from django.contrib.auth.models import AbstractUser
from django.db import models
from simple_history.models import HistoricalRecords

from flueproof.shop.records.models.owner import Owner


class Person(AbstractUser):
    """A person with one role, and how they want pages to look."""

    ROLES: ClassVar = [
        ("counter", "Counter"),
        ("technician", "Technician"),
        ("signer", "Signer"),
        ("manager", "Manager"),
        ("owner", "Owner (external)"),
    ]
    TEMPERATURE: ClassVar = [("degF", "°F"), ("degC", "°C")]
    PRESSURE: ClassVar = [("inH2O", "inH₂O"), ("Pa", "Pa"), ("mbar", "mbar")]
    THEMES: ClassVar = [("auto", "as the device"), ("light", "light"), ("dark", "dark")]

    role = models.CharField(max_length=12, choices=ROLES, default="counter")
    owner = models.ForeignKey(Owner, null=True, blank=True, on_delete=models.PROTECT, related_name="people_signing_in")
    temperature_unit = models.CharField("temperature in", max_length=8, choices=TEMPERATURE, default="degF")
    pressure_unit = models.CharField("draft and pressure in", max_length=8, choices=PRESSURE, default="inH2O")
    theme = models.CharField("light or dark", max_length=8, choices=THEMES, default="auto")
    version = models.PositiveIntegerField(default=0, editable=False)
    history = HistoricalRecords(excluded_fields=["password", "last_login"])

    def __str__(self) -> str:
        """Return the name as it stands on papers."""
        return self.get_full_name() or self.username

    @property
    def name_on_papers(self) -> str:
        """Return the name as it stands in bench records and on papers."""
        return str(self)

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Save with the next version."""
        self.version += 1
        fields = kwargs.get("update_fields")
        if fields is not None and set(fields) != {"last_login"}:
            kwargs["update_fields"] = {*fields, "version"}
        super().save(*args, **kwargs)
