"""When the shop works: its own closed days, and each technician's hours, skills and days off."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.shop import Station


def usual_hours() -> dict[str, list[str]]:
    """Return Monday (0) to Friday (4), eight to five; weekday -> [from, to]."""
    return {str(day): ["08:00", "17:00"] for day in range(5)}


def all_skills() -> list[str]:
    """Return every kind of work."""
    return ["counter", "bench", "repair", "sign"]


class Closure(Audited):
    """Days on which the shop is closed though the calendar says nothing, or open though it is a holiday."""

    first = models.DateField(db_index=True)
    last = models.DateField()
    open = models.BooleanField("open in spite of a holiday", default=False)
    words = models.CharField("why", max_length=120)

    class Meta:
        """In time order."""

        ordering = ("first", "id")

    def __str__(self) -> str:
        """Return why."""
        return self.words


class WorkingPattern(Audited):
    """A person's hours a week and skills; a person without a row is not planned for."""

    person = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="working_pattern")
    hours = models.JSONField(default=usual_hours)
    skills = models.JSONField(default=all_skills)
    planned = models.BooleanField("gets work from the plan", default=True)

    class Meta:
        """By person."""

        ordering = ("person_id",)

    def __str__(self) -> str:
        """Return whose."""
        return str(self.person)


class DayOff(Audited):
    """Days on which a person does not work: holiday, illness, training."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="days_off")
    first = models.DateField(db_index=True)
    last = models.DateField()
    why = models.CharField(max_length=120, blank=True)

    class Meta:
        """In time order."""

        ordering = ("first", "id")

    def __str__(self) -> str:
        """Return why."""
        return self.why or "day off"


class StationOut(Audited):
    """Days on which a station cannot be used."""

    station = models.ForeignKey(Station, on_delete=models.CASCADE, related_name="days_out")
    first = models.DateField()
    last = models.DateField()
    why = models.CharField(max_length=120, blank=True)

    class Meta:
        """In time order."""

        ordering: ClassVar = ("first", "id")

    def __str__(self) -> str:
        """Return why."""
        return self.why or "out of use"
