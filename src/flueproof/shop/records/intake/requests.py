"""Service requests: sent, confirmed, withdrawn, and become jobs when it is known which analyzers they mean."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from django.db import transaction

from flueproof.shop.records.intake.asking.drafts import RequestRefusedError, missing_in, save_by
from flueproof.shop.records.intake.asking.on_file import analyzer_of, open_job_of, owner_now
from flueproof.shop.records.intake.asking.serials import profile_of_model
from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.jobs.opening import JobOrder, NewAnalyzer, OpeningRefusedError, open_job
from flueproof.shop.records.models import Analyzer, Job, Owner, Person, RequestedAnalyzer, ServiceRequest

CONFIRM_WITHIN: Final = timedelta(days=7)
"""As long as the link in the e-mail is good; own rule."""
_USUAL_RULES: Final = "two-cell-residential"


@dataclass(frozen=True, slots=True)
class Became:
    """What became of one requested analyzer.

    how: opened, before (it was a job already), here (its analyzer has another open job), other-owner,
    reported (lost or stolen), left (not on file: the box will tell).
    """

    requested: RequestedAnalyzer
    how: str
    job: Job | None
    words: str


def send_request(request: ServiceRequest, now: datetime, by: Person | None) -> ServiceRequest:
    """Send a draft: it waits for its e-mail to be confirmed. One that was sent before stays as it is.

    Raises: RequestRefusedError that names what is missing, or where it was withdrawn.
    """
    with transaction.atomic():
        row = _locked(request)
        if row.state == "withdrawn":
            raise RequestRefusedError(f"Request {row.code} was withdrawn. Begin another one")
        if row.state != "draft":
            return row
        _refuse_incomplete(row)
        row.state, row.sent_at = "unconfirmed", now
        save_by(row, by)
    return row


def confirm_request(request: ServiceRequest, now: datetime, by: Person | None = None) -> ServiceRequest:
    """Confirm a request, by its e-mail (no person) or by the counter; a draft of the counter is sent with it.

    Confirmed before stays as it is, so that a second press or a link opened twice does nothing.
    Raises: RequestRefusedError.
    """
    with transaction.atomic():
        row = _locked(request)
        if row.state in {"confirmed", "taken"}:
            return row
        if row.state == "withdrawn":
            raise RequestRefusedError(f"Request {row.code} was withdrawn. Begin another one, or ring the shop")
        if row.state == "draft" and by is None:
            raise RequestRefusedError(f"Request {row.code} is not sent yet. Go through it once more and send it")
        _refuse_incomplete(row)
        row.state, row.sent_at, row.confirmed_at = "confirmed", row.sent_at or now, now
        save_by(row, by)
    return row


def withdraw_request(request: ServiceRequest, why: str, by: Person | None) -> ServiceRequest:
    """Withdraw a request that is no job yet; withdrawn before stays so. why: kept in its history.

    Raises: RequestRefusedError where a box is here or a job is open: that is ended at the job.
    """
    with transaction.atomic():
        row = _locked(request)
        if row.state == "withdrawn":
            return row
        job = Job.objects.filter(requested__request=row).first()
        if job is not None:
            raise RequestRefusedError(f"Request {row.code} is job {job.number} already. Drop the job instead")
        row.state = "withdrawn"
        row._change_reason = why[:100]  # type: ignore[attr-defined] # noqa: SLF001 -- documented way of simple_history
        save_by(row, by)
    return row


def jobs_of(
    request: ServiceRequest, owner: Owner | None, by: Person, now: datetime, *, add_new: Collection[int] = ()
) -> list[Became]:
    """Open a job for each analyzer of a confirmed request that is on file, and return what became of each.

    owner: whom the counter took the request to be from; None where the analyzers on file tell it.
    add_new: keys of requested analyzers that are put on file now, with the owner; the others are left to the box.
    Pressing again opens only what was not opened.
    Raises: RequestRefusedError where the request is not confirmed.
    """
    with transaction.atomic():
        row = _locked(request)
        if row.state not in {"confirmed", "taken"}:
            said = dict(ServiceRequest.STATES)[row.state]
            raise RequestRefusedError(f"Request {row.code} is {said}. Confirm it first")
        firm = owner_now(owner) if owner else (owner_now(row.owner) if row.owner else None)
        if firm is not None and row.owner_id != firm.pk:
            row.owner = firm
            save_by(row, by)
        rows = row.analyzers.select_related("job")
        became = [_became(one, firm, by, now, add_it=one.pk in add_new) for one in rows]
        owners = {one.job.owner_id: one.job.owner for one in became if one.how == "opened" and one.job is not None}
        if row.owner_id is None and len(owners) == 1:
            row.owner = next(iter(owners.values()))
            save_by(row, by)
    return became


def job_of(requested: RequestedAnalyzer, analyzer: Analyzer, by: Person, now: datetime) -> Job:
    """Open the job of one requested analyzer with all that the owner wrote, once it is known which analyzer it is.

    Raises: OpeningRefusedError where the analyzer has an open job.
    """
    with transaction.atomic():
        row: RequestedAnalyzer = RequestedAnalyzer.objects.select_for_update().get(pk=requested.pk)
        if row.job is not None:
            return row.job
        job = open_job(analyzer.owner, analyzer, _order(row), by, now)
        return _bound(row, job, by, now)


def join_job(requested: RequestedAnalyzer, job: Job, by: Person, now: datetime) -> Job:
    """Bind a requested analyzer to the open job that its analyzer has already; the owner's words go to the job.

    Raises: RequestRefusedError where that job belongs to another request.
    """
    with transaction.atomic():
        row: RequestedAnalyzer = RequestedAnalyzer.objects.select_for_update().get(pk=requested.pk)
        if row.job_id == job.pk:
            return job
        if row.job_id is not None or RequestedAnalyzer.objects.filter(job=job).exists():
            raise RequestRefusedError(f"{job.number} came from another request. Write a note at the job instead")
        row.job, row.analyzer = job, job.analyzer
        save_by(row, by)
        words = "; ".join(part for part in (row.complaint, row.used_on and f"last used on {row.used_on}") if part)
        note_moment(job, "requested", by, now, text=f"Request {row.request.code} joined. {words}".strip())
    return job


def set_owner(request: ServiceRequest, owner: Owner, by: Person) -> ServiceRequest:
    """Note which owner on file a request is from; a merged one leads to the one that stands."""
    with transaction.atomic():
        row, firm = _locked(request), owner_now(owner)
        if row.owner_id != firm.pk:
            row.owner = firm
            save_by(row, by)
    return row


def close_when_all_here(request: ServiceRequest, by: Person | None) -> ServiceRequest:
    """Note that all boxes of a request are here, as soon as each of its analyzers has a job whose box came."""
    with transaction.atomic():
        row = _locked(request)
        jobs = [one.job for one in row.analyzers.select_related("job")]
        if row.state == "confirmed" and all(job is not None and job.state != "requested" for job in jobs):
            row.state = "taken"
            save_by(row, by)
    return row


def _became(one: RequestedAnalyzer, firm: Owner | None, by: Person, now: datetime, *, add_it: bool) -> Became:
    if one.job is not None:
        return Became(one, "before", one.job, f"is job {one.job.number} already")
    analyzer = analyzer_of(one)
    if analyzer is None and not (add_it and firm is not None and one.serial.strip()):
        return Became(one, "left", None, "not on file with this make and serial: the box will tell which it is")
    try:
        with transaction.atomic():
            if analyzer is None:
                rules = one.profile or profile_of_model(one.make, one.model) or _USUAL_RULES
                unit = NewAnalyzer(one.make.strip(), one.model.strip(), one.serial.strip(), rules)
                job = open_job(firm, unit, _order(one), by, now)  # type: ignore[arg-type] # looked at above
                return Became(one, "opened", _bound(one, job, by, now), f"put on file, job {job.number} is open")
            if analyzer.whereabouts:
                told = f"is {analyzer.get_whereabouts_display()}: look at its page before anything is opened"
                return Became(one, "reported", None, told)
            standing = open_job_of(analyzer)
            if standing is not None:
                where = standing.get_state_display()
                return Became(one, "here", standing, f"has an open job already: {standing.number}, {where}")
            if firm is not None and owner_now(analyzer.owner).pk != firm.pk:
                told = f"belongs to {owner_now(analyzer.owner)} on file, not to {firm}: lent, sold or misread?"
                return Became(one, "other-owner", None, told)
            job = open_job(analyzer.owner, analyzer, _order(one), by, now)
            return Became(one, "opened", _bound(one, job, by, now), f"job {job.number} is open")
    except OpeningRefusedError as error:
        return Became(one, "here", error.job, str(error))


def _order(one: RequestedAnalyzer) -> JobOrder:
    request = one.request
    extra = {
        "used_on": one.used_on,
        "accidents": list(one.accidents),
        "enclosed_announced": list(one.enclosed),
        "own_number": one.own_number,
        "spend_up_to": one.spend_up_to,
        "may_set_clock": one.may_set_clock,
        "may_update_firmware": one.may_update_firmware,
        "may_clear_memory": one.may_clear_memory,
        "needed_by": request.needed_by,
        "purchase_order": request.purchase_order,
        "return_address": return_address(request),
        "return_carrier": request.carrier,
    }
    return JobOrder(one.service, one.complaint, due_wanted=one.due_wanted, as_found=one.as_found, extra=extra)


def return_address(request: ServiceRequest) -> str:
    """Return the return address as a label has it: firm, person, street, place."""
    place = request.address_lines()
    return "\n".join(line for line in (request.firm, request.contact, *place) if line.strip()) if place else ""


def _bound(one: RequestedAnalyzer, job: Job, by: Person, now: datetime) -> Job:
    """Write the rest of what was ordered to the job and bind the two; the owner's tick is their wish for a due date."""
    job.limits, job.decision_rule, job.due_wanted = one.limits or "profile", one.decision_rule, one.due_wanted
    save_by(job, by)
    one.job, one.analyzer = job, job.analyzer
    save_by(one, by)
    note_moment(job, "requested", by, now, text=f"Request {one.request.code}, box slip {one.slip}")
    return job


def _locked(request: ServiceRequest) -> ServiceRequest:
    row: ServiceRequest = ServiceRequest.objects.select_for_update().get(pk=request.pk)
    return row


def _refuse_incomplete(request: ServiceRequest) -> None:
    missing = missing_in(request)
    if missing:
        raise RequestRefusedError(f"Still missing: {'; '.join(one.words for one in missing)}")
