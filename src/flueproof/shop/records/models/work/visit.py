"""The bench part of a job: the append-only bench record as event rows, gas applications and their readings."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from flueproof.shop.records.keeping.json_text import IdInJson
from flueproof.shop.records.models.job import Job
from flueproof.shop.records.models.reference import Reference
from flueproof.shop.records.models.shop import Station


class Visit(models.Model):
    """One bench record of a job; a second one after a repair continues the same record, a comeback has its own."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="visits")
    number = models.PositiveSmallIntegerField(default=1)
    opened_at = models.DateTimeField()
    opened_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    station = models.ForeignKey(Station, null=True, blank=True, on_delete=models.SET_NULL, related_name="visits")
    budget_l = models.FloatField("gas budget [L]", default=20.0)

    class Meta:
        """In order."""

        ordering = ("job", "number")
        constraints: ClassVar = [models.UniqueConstraint(fields=("job", "number"), name="one_visit_number_per_job")]

    def __str__(self) -> str:
        """Return job and number."""
        return f"{self.job} visit {self.number}"


class BenchEvent(models.Model):
    """One row of a bench record, holding the hash of the row before. Append-only.

    kind: `head` (all of the record but references and steps; a later one replaces the projection's head), `reference`
    (id and content of a reference used) or `step`. body: canonical JSON. source, source_sequence: who sent it (a
    page's own id, an agent) and its number there, so that nothing comes twice.
    """

    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="events")
    position = models.PositiveIntegerField()
    kind = models.CharField(max_length=12)
    body = models.TextField()
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    source = models.CharField(max_length=64, null=True, blank=True)  # noqa: DJ001 -- NULL is outside the unique pair
    source_sequence = models.BigIntegerField(null=True, blank=True)
    previous_hash = models.CharField(max_length=64, blank=True)
    hash = models.CharField(max_length=64)

    class Meta:
        """In order, one row a position, nothing twice."""

        ordering = ("visit", "position")
        constraints: ClassVar = [
            models.UniqueConstraint(fields=("visit", "position"), name="one_event_per_position"),
            models.UniqueConstraint(fields=("source", "source_sequence"), name="no_event_twice"),
        ]
        indexes: ClassVar = [
            models.Index(IdInJson("body"), name="visits_by_reference", condition=models.Q(kind="reference"))
        ]

    def __str__(self) -> str:
        """Return visit and position."""
        return f"{self.visit_id}/{self.position} {self.kind}"


class Application(models.Model):
    """A measuring step while it runs: the gas (or heat, or pressure) put on once, from off to off.

    group: the same for analyzers on one bottle at once; plan: what is measured (step kind, point, phase, path, expected
    values) as the step will need it; ended: `recorded` (with its event) or `dropped` (with the reason in the record).
    """

    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="applications")
    group = models.CharField(max_length=36, blank=True, db_index=True)
    reference = models.ForeignKey(Reference, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    plan = models.JSONField()
    began_at = models.DateTimeField()
    began_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    gas_on_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)
    ended = models.CharField(max_length=12, blank=True)
    event = models.OneToOneField(
        BenchEvent, null=True, blank=True, on_delete=models.PROTECT, related_name="application"
    )

    class Meta:
        """In time order; one running application a visit."""

        ordering = ("id",)
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=("visit",), condition=models.Q(ended_at__isnull=True), name="one_running_application_per_visit"
            )
        ]

    def __str__(self) -> str:
        """Return what runs."""
        return f"{self.visit_id}: {self.plan.get('kind', '')}"


class Reading(models.Model):
    """One reading, typed or captured, committed before it is acknowledged. Append-only.

    shown: number or text as JSON, as the display showed it; source, sequence: the page's or agent's own id and number.
    """

    station = models.ForeignKey(Station, null=True, blank=True, on_delete=models.PROTECT, related_name="readings")
    application = models.ForeignKey(
        Application, null=True, blank=True, on_delete=models.PROTECT, related_name="readings"
    )
    source = models.CharField(max_length=64)
    sequence = models.BigIntegerField()
    at = models.DateTimeField()
    received_at = models.DateTimeField()
    t_s = models.FloatField(null=True, blank=True)
    channel = models.CharField(max_length=24)
    unit = models.CharField(max_length=12)
    step = models.FloatField(null=True, blank=True)
    shown = models.JSONField()
    photo = models.CharField(max_length=64, blank=True)

    class Meta:
        """In the order received, nothing twice."""

        ordering = ("id",)
        constraints: ClassVar = [models.UniqueConstraint(fields=("source", "sequence"), name="no_reading_twice")]
        indexes: ClassVar = [
            models.Index(fields=("application", "channel", "id"), name="readings_of_application"),
            models.Index(fields=("station", "id"), name="readings_of_station"),
        ]

    def __str__(self) -> str:
        """Return channel and value."""
        return f"{self.channel} {self.shown} {self.unit}"
