"""Jobs: list, one, open, change, move from state to state."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from ninja import Query, Router

from flueproof.shop.api.answers import ApiError, answers, missing
from flueproof.shop.api.changing import carry_on, change
from flueproof.shop.api.once import once
from flueproof.shop.api.paging import Paging, page_of
from flueproof.shop.api.shapes.job import JobChange, JobMove, JobNew, JobOut, JobsOut, State, job_out
from flueproof.shop.api.token_door import BearerToken, person_on, token_on
from flueproof.shop.records.access.tokens import token_may
from flueproof.shop.records.jobs.holding import hold, release
from flueproof.shop.records.jobs.moves import make_move
from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.jobs.opening import JobOrder, OpeningRefusedError, open_job
from flueproof.shop.records.jobs.order_change import carry_into_record
from flueproof.shop.records.jobs.receiving import take_in
from flueproof.shop.records.models import Analyzer, Job, Person
from flueproof.shop.records.people.rights import RIGHT_IN_WORDS

router = Router(tags=["jobs"])
_BENCH_STATES = ("bench", "to-sign")


@router.get("", response=answers(JobsOut), auth=BearerToken("see-jobs"))
def list_jobs(
    request: HttpRequest,  # noqa: ARG001 -- ninja passes it
    paging: Paging,
    state: Annotated[State | None, Query()] = None,
    *,
    open_only: bool = False,
    owner: Annotated[int | None, Query(ge=1, lt=2**63)] = None,
    analyzer: Annotated[int | None, Query(ge=1, lt=2**63)] = None,
) -> JobsOut:
    """List jobs, the newest first."""
    rows = Job.objects.select_related("analyzer")
    filters: dict[str, Any] = {"state": state, "owner_id": owner, "analyzer_id": analyzer}
    rows = rows.filter(**{name: value for name, value in filters.items() if value is not None})
    page, after = page_of(rows.filter(state__in=Job.OPEN) if open_only else rows, paging, newest_first=True)
    return JobsOut(rows=[job_out(row) for row in page], next=after)


@router.post("", response=answers(JobOut, 201), auth=BearerToken("change-jobs"))
def open_one_job(request: HttpRequest, body: JobNew) -> HttpResponse:
    """Open a job for an analyzer on file; one that has an open job already is answered with 409 and that job."""
    return once(request, 201, lambda: job_out(_open(body, person_on(request), timezone.now())))


@router.get("/{number}", response=answers(JobOut), auth=BearerToken("see-jobs"))
def one_job(request: HttpRequest, number: str) -> JobOut:  # noqa: ARG001 -- ninja passes it
    """Return one job."""
    return job_out(job_named(number))


@router.patch("/{number}", response=answers(JobOut), auth=BearerToken("change-jobs"))
def change_job(request: HttpRequest, number: str, body: JobChange) -> JobOut:
    """Change a job whose `version` is still the one seen; promise clock and open bench record follow."""
    row = job_named(number)
    wanted = body.model_dump(exclude={"version"}, exclude_none=True)
    if "promised_on" in body.model_fields_set:
        wanted["promised_on"] = body.promised_on
    if wanted.get("due_wanted") and not row.owner.due_agreed:
        raise ApiError(422, "The owner did not agree to due dates.", "Note the agreement with the owner.", "due_wanted")
    person = person_on(request)
    with transaction.atomic():
        saved = change(row, body.version, wanted, person, _shape)
        carry_on(carry_into_record, saved, person)
    return job_out(job_named(number))


@router.post("/{number}/state", response=answers(JobOut), auth=BearerToken("change-jobs"))
def move_one_job(request: HttpRequest, number: str, body: JobMove) -> HttpResponse:
    """Move a job; where it is already, nothing changes. Putting it on the bench needs `work-bench` too."""
    if body.to in _BENCH_STATES and not token_may(token_on(request), "work-bench"):
        words = RIGHT_IN_WORDS["work-bench"].lower()
        raise ApiError(403, f"This token may not do this: {words}.", "Make a token with the right work-bench.")
    row = job_named(number)
    return once(request, 200, lambda: job_out(_moved(row, body, person_on(request), timezone.now())))


def job_named(number: str) -> Job:
    """Return a job by its number.

    Raises: ApiError (404).
    """
    row: Job | None = Job.objects.select_related("owner", "analyzer").filter(number=number.replace("\0", "")).first()
    if row is None:
        raise missing("job", number)
    return row


def _open(body: JobNew, by: Person, now: datetime) -> Job:
    analyzer: Analyzer | None = None
    if 0 < body.analyzer < 2**63:
        analyzer = Analyzer.objects.select_related("owner").filter(pk=body.analyzer).first()
    if analyzer is None:
        raise ApiError(422, f"There is no analyzer {body.analyzer}.", "Add the analyzer first.", "analyzer")
    order = JobOrder(**body.model_dump(exclude={"analyzer"}))
    try:
        return open_job(analyzer.owner, analyzer, order, by, now)
    except OpeningRefusedError as error:
        raise ApiError(
            409, f"{error}.", "Use the open job.", "analyzer", _shape(error.job) if error.job else None
        ) from error


def _moved(job: Job, body: JobMove, by: Person, now: datetime) -> Job:
    try:
        if body.to == "held":
            return hold(job, by, now, body.why, body.waits_for)
        if job.state in {"held", "parts"} and body.to != job.state:
            return release(job, body.to, by, now, body.decided_by, body.why)
        if (job.state, body.to) == ("requested", "arrived"):
            return take_in(job, None, by, now)
        return make_move(job, body.to, by, now, body.why)
    except MoveRefusedError as error:
        raise ApiError(409, f"{error}.", "Look at `current`.", "to", _shape(job_named(job.number))) from error


def _shape(row: Any) -> dict[str, Any]:
    return job_out(row).model_dump(mode="json")
