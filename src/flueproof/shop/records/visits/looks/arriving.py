"""Readings that an agent delivers: stored in one transaction, never twice, each with the application it belongs to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import Q

from flueproof.shop.records.models import Application, Reading, Station
from flueproof.shop.records.visits.looks.clocks import agent_is_off_by
from flueproof.shop.records.visits.news.waking import tell_watchers


@dataclass(frozen=True, slots=True)
class Arrived:
    """One reading as sent: number at its agent, when by the agent's clock, what one channel showed."""

    sequence: int
    at: datetime
    channel: str
    unit: str
    step: float | None
    shown: float | str


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of a batch: highest number of it that is stored, rows new, rows that were there already."""

    acknowledged: int
    stored: int
    repeated: int


def take_readings(station: Station, agent: str, readings: Sequence[Arrived], now: datetime) -> Taken:
    """Store a batch and return what became of it; when this returns, all of it is on the disk.

    Each reading goes to the application that ran at the station at that time, or to none; it is kept either way.
    readings: at least one, numbers without repetition.
    """
    with transaction.atomic():
        Station.objects.select_for_update().get(pk=station.pk)  # one batch of a station at a time: exact counts
        numbers = [one.sequence for one in readings]
        there = set(Reading.objects.filter(source=agent, sequence__in=numbers).values_list("sequence", flat=True))
        new = [one for one in readings if one.sequence not in there]
        if new:
            off = timedelta(seconds=agent_is_off_by(agent, max(one.at for one in readings), now))
            applications = _applications(station, min(one.at for one in new) + off, max(one.at for one in new) + off)
            rows = [_row(one, station, agent, off, applications, now) for one in new]
            Reading.objects.bulk_create(rows, ignore_conflicts=True)
            for visit_pk in {one.visit_id for one in applications if one.ended_at is None}:
                tell_watchers(visit_pk)
    return Taken(max(numbers), len(new), len(there))


def _applications(station: Station, first: datetime, last: datetime) -> list[Application]:
    """Return what ran at the station in that time, locked so that none ends while its readings are on their way."""
    ran = Q(ended_at=None) | Q(ended_at__gte=first)
    found = Application.objects.filter(ran, visit__station=station, began_at__lte=last)
    return list(found.select_for_update(of=("self",)).order_by("pk"))


def _row(
    one: Arrived, station: Station, agent: str, off: timedelta, applications: list[Application], now: datetime
) -> Reading:
    at = one.at + off
    owner = next((a for a in applications if a.began_at <= at and (a.ended_at is None or at <= a.ended_at)), None)
    return Reading(
        station=station,
        application=owner,
        source=agent,
        sequence=one.sequence,
        at=one.at,
        received_at=now,
        t_s=None if owner is None else (at - owner.began_at).total_seconds(),
        channel=one.channel,
        unit=one.unit,
        step=one.step,
        shown=one.shown,
    )
