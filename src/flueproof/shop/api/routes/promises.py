"""Promises: where that of a job stands, and whether something can be done by a moment."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Annotated, Final

from django.http import HttpRequest
from django.utils import timezone
from ninja import Query, Router
from pydantic import AwareDatetime

from flueproof.shop.api.answers import ApiError, answers
from flueproof.shop.api.routes.jobs import job_named
from flueproof.shop.api.shapes.job import Service
from flueproof.shop.api.shapes.promise import CanOut, PromiseOut, can_out, promise_out
from flueproof.shop.api.token_door import BearerToken
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.clock import clock_of
from flueproof.shop.records.promises.questions import Asked, CannotAnswerError, can_be_done

router = Router(tags=["promises"])
_FARTHEST: Final = timedelta(days=366)


@router.get("/jobs/{number}/promise", response=answers(PromiseOut), auth=BearerToken("see-plan"))
def promise_of_job(request: HttpRequest, number: str) -> PromiseOut:  # noqa: ARG001 -- ninja passes it
    """Return where the promise of a job stands now, with every stop and why."""
    job, calendar = job_named(number), shop_calendar()
    return promise_out(job, clock_of(job, timezone.now(), calendar=calendar), calendar)


@router.get("/promises/can", response=answers(CanOut), auth=BearerToken("see-plan"))
def can_it_be_done(
    request: HttpRequest,  # noqa: ARG001 -- ninja passes it
    by: Annotated[AwareDatetime, Query(description="The moment, with its offset from UTC.")],
    job: Annotated[str, Query(max_length=20, description="Number of an open job; empty asks for a new one.")] = "",
    service: Annotated[Service, Query(description="Of a new job.")] = "verify-adjust",
    model: Annotated[str, Query(max_length=80, description="Of a new job, where it is known.")] = "",
    here_on: Annotated[date | None, Query(description="The day on which its box is here; left out for now.")] = None,
) -> CanOut:
    """Answer whether a job can be done by a moment and which promises that would break; nothing is kept."""
    row = job_named(job) if job else None
    if row is not None and not row.is_open:
        raise ApiError(
            409, f"{row.number} is {row.get_state_display()}.", "Ask for an open job, or for a new one.", "job"
        )
    now = timezone.now()
    last = now + _FARTHEST
    if not now < by <= last or (here_on is not None and here_on > last.date()):
        raise ApiError(422, "That is over, or too far away to be planned.", "Ask for a day within a year.", "by")
    asked = Asked(by.astimezone(shop_calendar().zone), row, row.service if row else service, model, here_on)
    try:
        return can_out(can_be_done(asked, now))
    except CannotAnswerError as error:
        raise ApiError(422, str(error), "Ask otherwise, or look at the Promises page.", "by") from error
