"""Opening a job: with an owner and an analyzer that are on file, or that are made with it, all or nothing."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, Final

from django.db import transaction
from django.utils import timezone

from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.keeping.numbering import next_number
from flueproof.shop.records.models import Analyzer, Job, Owner, OwnerContact, Person

SERIAL_UNKNOWN: Final = "not read yet"


class OpeningRefusedError(ValueError):
    """A job that cannot be opened; `job` is the open job that stands in the way, where there is one."""

    def __init__(self, message: str, job: Job | None = None) -> None:
        super().__init__(message)
        self.job = job


@dataclass(frozen=True, slots=True)
class NewOwner:
    """A firm that is not on file yet, with the person who called."""

    name: str
    contact: str = ""
    phone: str = ""
    email: str = ""


@dataclass(frozen=True, slots=True)
class NewAnalyzer:
    """An analyzer that is not on file yet; an empty serial is read off the plate when the box is here."""

    make: str
    model: str
    serial: str
    profile: str = "two-cell-residential"


@dataclass(frozen=True, slots=True)
class JobOrder:
    """What is ordered; due_wanted counts only where the owner agreed to due dates (ISO/IEC 17025, 7.8.4.3)."""

    service: str = "verify-adjust"
    complaint: str = ""
    promised_on: date | None = None
    rush: bool = False
    due_wanted: bool = False
    as_found: bool = True
    extra: dict[str, Any] = field(default_factory=dict)


def open_job(
    owner: Owner | NewOwner, analyzer: Analyzer | NewAnalyzer, order: JobOrder, by: Person, now: datetime
) -> Job:
    """Return the new job in state `requested`.

    One analyzer has one open job at most, so a second press finds the first one's.
    Raises: OpeningRefusedError, with nothing written.
    """
    with transaction.atomic():
        number = next_number("J", timezone.localdate(now).year)  # its row lock lets one job in at a time
        firm, unit = _taken_in(owner, analyzer, number, by)
        standing = Job.objects.filter(analyzer=unit, state__in=Job.OPEN).first()
        if standing is not None:
            raise OpeningRefusedError(f"{unit.serial} has an open job already: {standing.number}", standing)
        job = Job(
            number=number,
            owner=firm,
            analyzer=unit,
            service=order.service,
            complaint=order.complaint,
            promised_on=order.promised_on,
            rush=order.rush,
            as_found=order.as_found,
            due_wanted=order.due_wanted and firm.due_agreed,
            decision_rule=firm.decision_rule,
            limits="profile",
            opened_at=now,
            **order.extra,
        )
        _save(job, by)
        note_moment(job, "opened", by, now, text=order.complaint, after=job.state)
    return job


def _taken_in(
    owner: Owner | NewOwner, analyzer: Analyzer | NewAnalyzer, number: str, by: Person
) -> tuple[Owner, Analyzer]:
    if isinstance(analyzer, Analyzer):
        unit = Analyzer.objects.select_for_update().select_related("owner").get(pk=analyzer.pk)
        if isinstance(owner, Owner) and unit.owner_id != owner.pk:
            raise OpeningRefusedError(
                f"{unit.serial} belongs to {unit.owner}; open the job for them, or change the analyzer's owner first"
            )
        return unit.owner, unit
    serial = analyzer.serial.strip() or f"{SERIAL_UNKNOWN} ({number})"
    known = Analyzer.objects.filter(make=analyzer.make, serial=serial).select_related("owner").first()
    if known is not None:
        standing = Job.objects.filter(analyzer=known, state__in=Job.OPEN).first()
        told = f"; its open job is {standing.number}" if standing else ""
        raise OpeningRefusedError(
            f"{known.make} {serial} is on file already, of {known.owner}{told}. Choose it there", standing
        )
    firm = owner if isinstance(owner, Owner) else _new_owner(owner, by)
    unit = Analyzer(owner=firm, make=analyzer.make, model=analyzer.model, serial=serial, profile=analyzer.profile)
    _save(unit, by)
    return firm, unit


def _new_owner(owner: NewOwner, by: Person) -> Owner:
    firm = Owner(name=owner.name)
    _save(firm, by)
    if owner.contact or owner.phone or owner.email:
        _save(OwnerContact(owner=firm, name=owner.contact or owner.name, phone=owner.phone, email=owner.email), by)
    return firm


def _save(row: Any, by: Person) -> None:
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save()
