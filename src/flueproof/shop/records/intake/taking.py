"""Taking a box as that of an analyzer: box, analyzer and job are tied together, all or nothing."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final, cast

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from flueproof.shop.records.filing.selling import pass_on_what_is_due
from flueproof.shop.records.intake.arrivals import ArrivalRefusedError, locked, refuse_unless_open, save_by
from flueproof.shop.records.intake.asking.drafts import RequestRefusedError
from flueproof.shop.records.intake.asking.on_file import owner_now
from flueproof.shop.records.intake.new_on_file import put_on_file
from flueproof.shop.records.intake.requests import close_when_all_here, confirm_request, job_of, join_job
from flueproof.shop.records.jobs.box import arrive
from flueproof.shop.records.jobs.moving import move_job, note_moment
from flueproof.shop.records.jobs.opening import JobOrder, NewAnalyzer, NewOwner, OpeningRefusedError, open_job
from flueproof.shop.records.keeping.plate_key import phone_key
from flueproof.shop.records.models import Analyzer, Arrival, Job, Owner, Person, RequestedAnalyzer, ServiceRequest

_RECOGNIZED: Final = "box recognized"


class ReportedMissingError(ArrivalRefusedError):
    """An analyzer that its owner reported lost or stolen; the box is kept aside, nobody is accused."""

    def __init__(self, analyzer: Analyzer) -> None:
        super().__init__(f"{analyzer.serial} was {analyzer.get_whereabouts_display()}")
        self.analyzer = analyzer


@dataclass(frozen=True, slots=True)
class Taken:
    """A box that is known now; again: another box of a job whose analyzer is here already."""

    arrival: Arrival
    job: Job
    again: bool = False


def take_analyzer(
    arrival: Arrival,
    analyzer: Analyzer,
    by: Person,
    now: datetime,
    *,
    weighed: dict[str, Any] | None = None,
    keep_aside: bool = False,
    comeback_of: Job | None = None,
    requested: RequestedAnalyzer | None = None,
) -> Taken:
    """Say that the box holds this analyzer: the job that waits for it has its box, or a new one is opened.

    weighed: what the ranking said; keep_aside: also when it was reported missing, then the job is held at once;
    comeback_of: the job after which it came back; requested: the request that asked for it, where that is known.
    Raises: ReportedMissingError, ArrivalRefusedError, with nothing written.
    """
    with transaction.atomic():
        row = locked(arrival)
        if row.state == "known" and row.analyzer_id == analyzer.pk and row.job is not None:
            return Taken(row, row.job)
        refuse_unless_open(row)
        unit: Analyzer = Analyzer.objects.select_for_update().select_related("owner").get(pk=analyzer.pk)
        if unit.whereabouts and not keep_aside:
            raise ReportedMissingError(unit)
        job, opened = _job_for(unit, requested, by, now, comeback_of)
        return tie(row, job, by, now, weighed=weighed, opened=opened)


def take_new(
    arrival: Arrival,
    owner: Owner | NewOwner,
    analyzer: NewAnalyzer,
    by: Person,
    now: datetime,
    *,
    weighed: dict[str, Any] | None = None,
    requested: RequestedAnalyzer | None = None,
) -> Taken:
    """Say that the box holds an analyzer that is not on file; it, its job and maybe its owner are made.

    Raises: ArrivalRefusedError (also when make and serial are on file already), with nothing written.
    """
    with transaction.atomic():
        row = locked(arrival)
        if row.state == "known" and row.job is not None:
            return Taken(row, row.job)
        refuse_unless_open(row)
        try:
            job = open_job(owner, analyzer, JobOrder(), by, now) if requested is None else None
            if requested is not None:
                unit = put_on_file(owner, analyzer, row.box, by)
                job = job_of(_confirmed(requested, by, now), unit, by, now)
        except (OpeningRefusedError, RequestRefusedError) as error:
            raise ArrivalRefusedError(str(error)) from error
        return tie(row, cast("Job", job), by, now, weighed=weighed, opened=requested is None)


def take_sold_on(
    arrival: Arrival, analyzer: Analyzer, to: Owner, by: Person, now: datetime, weighed: dict[str, Any] | None = None
) -> Taken:
    """Say that the analyzer belongs to another owner now; it is looked at as found first, and old due dates end.

    Raises: ReportedMissingError, ArrivalRefusedError, with nothing written.
    """
    with transaction.atomic():
        unit: Analyzer = Analyzer.objects.select_for_update().select_related("owner").get(pk=analyzer.pk)
        standing = Job.objects.filter(analyzer=unit, state__in=Job.OPEN).exclude(owner=to).first()
        if standing is not None:
            raise ArrivalRefusedError(
                f"{unit.serial} has an open job of {standing.owner}: {standing.number}. Ask them first"
            )
        if unit.whereabouts:
            raise ReportedMissingError(unit)
        if unit.owner_id != to.pk:
            before, unit.owner, unit.as_found_needed = unit.owner, to, True
            save_by(unit, by)
            pass_on_what_is_due(unit, "", by, timezone.localdate(now))
            taken = take_analyzer(arrival, unit, by, now, weighed=weighed)
            note_moment(taken.job, "sold on", by, now, text=f"was of {before}; nothing but as found first")
            return taken
        return take_analyzer(arrival, unit, by, now, weighed=weighed)


def take_job(arrival: Arrival, job: Job, by: Person, now: datetime) -> Taken:
    """Say that the box belongs to an open job; one whose analyzer is here already keeps its state.

    Raises: ReportedMissingError, ArrivalRefusedError, with nothing written.
    """
    with transaction.atomic():
        row = locked(arrival)
        if row.state == "known" and row.job_id == job.pk:
            return Taken(row, job)
        refuse_unless_open(row)
        if not job.is_open:
            raise ArrivalRefusedError(f"{job.number} is {job.get_state_display()}; open a new job for this box")
        if job.analyzer.whereabouts:
            raise ReportedMissingError(job.analyzer)
        return tie(row, job, by, now, weighed=None, opened=False)


def tie(row: Arrival, job: Job, by: Person, now: datetime, *, weighed: dict[str, Any] | None, opened: bool) -> Taken:
    """Tie a locked box to its job, note the moment, and say that the analyzer is here."""
    again = job.state != "requested"
    row.state, row.analyzer, row.job = "known", job.analyzer, job
    row.weighed = {**(weighed or {}), "opened": opened}
    save_by(row, by)
    note_moment(job, "another box" if again else _RECOGNIZED, by, now, text=_how(row, again=again))
    missing = job.analyzer.whereabouts
    if not again:
        job.refresh_from_db()
        job.received_on = timezone.localdate(row.came_at)
        job.as_found = job.as_found or job.analyzer.as_found_needed or bool(missing)
        save_by(job, by)
        job = arrive(job, by, now)
    if missing:
        job = _held_aside(job, by, now)
    asked = RequestedAnalyzer.objects.filter(job=job).select_related("request").first()
    if asked is not None:
        close_when_all_here(asked.request, by)
    return Taken(row, job, again)


def _job_for(
    unit: Analyzer, requested: RequestedAnalyzer | None, by: Person, now: datetime, comeback_of: Job | None
) -> tuple[Job, bool]:
    """Return the open job of an analyzer, and False; or a new one, and True."""
    asked = requested or _asked_for(unit)
    standing: Job | None = Job.objects.filter(analyzer=unit, state__in=Job.OPEN).select_related("analyzer").first()
    try:
        if standing is not None:
            if asked is not None and _may_join(asked, standing):
                join_job(asked, standing, by, now)
            return standing, False
        if asked is not None and asked.job_id is None:
            return job_of(_confirmed(asked, by, now), unit, by, now), False
        order = JobOrder(
            complaint=comeback_of.complaint if comeback_of else "",
            service=comeback_of.service if comeback_of else "verify-adjust",
            extra={"first_job": comeback_of} if comeback_of else {},
        )
        return open_job(unit.owner, unit, order, by, now), True
    except (OpeningRefusedError, RequestRefusedError) as error:
        raise ArrivalRefusedError(str(error)) from error


def _asked_for(unit: Analyzer) -> RequestedAnalyzer | None:
    """Return the confirmed request of an analyzer that is no job yet, the oldest first.

    A request counts only when it is its owner's: a stranger's words must not send somebody's analyzer elsewhere.
    """
    waiting = RequestedAnalyzer.objects.filter(job=None, request__state="confirmed")
    own = Q(analyzer=unit) | Q(analyzer=None, serial__iexact=unit.serial, make__iexact=unit.make)
    rows = waiting.filter(own).select_related("request__owner__merged_into").order_by("id")
    return next((row for row in rows if _is_from(row.request, unit.owner)), None)


def _is_from(request: ServiceRequest, owner: Owner) -> bool:
    """Return True for a request of this owner, or one from an e-mail address or phone number of theirs."""
    if request.owner is not None:
        return owner_now(request.owner).pk == owner_now(owner).pk
    mail, phone = request.email.strip().casefold(), phone_key(request.phone)
    return any(
        (mail and mail == one.email.strip().casefold()) or (phone and phone == one.phone_key)
        for one in owner.contacts.all()
    )


def _confirmed(asked: RequestedAnalyzer, by: Person, now: datetime) -> RequestedAnalyzer:
    """Return a requested analyzer whose request the counter confirms, since its box with its slip is here.

    What the request lacks is no reason to leave the box: the paperwork of its job says it.
    """
    if asked.request.state == "unconfirmed":
        with suppress(RequestRefusedError):
            confirm_request(asked.request, now, by)
    return asked


def _may_join(asked: RequestedAnalyzer, standing: Job) -> bool:
    return asked.job_id is None and not RequestedAnalyzer.objects.filter(job=standing).exists()


def _held_aside(job: Job, by: Person, now: datetime) -> Job:
    unit = job.analyzer
    if not unit.as_found_needed:
        unit.as_found_needed = True
        save_by(unit, by)
    words = f"{unit.get_whereabouts_display()}: call its owner on file"
    return move_job(job, "held", by, now, why=words, waits_for=words) if job.state == "arrived" else job


def _how(row: Arrival, *, again: bool) -> str:
    by_what = f"the scan of {row.slip}" if row.slip else "clues" if row.clues else "the counter"
    return f"{row.box}, by {by_what}" + (", the analyzer is here already" if again else "")
