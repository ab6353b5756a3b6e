"""Visits: the bench record as JSON, and what the core says of it."""

from __future__ import annotations

from typing import Any

from django.db.models import Count
from django.http import HttpRequest
from ninja import Router

from flueproof.shop.api.answers import ApiError, answers, missing
from flueproof.shop.api.routes.jobs import job_named
from flueproof.shop.api.shapes.job import VisitOut, VisitsOut
from flueproof.shop.api.token_door import BearerToken
from flueproof.shop.records.models import Visit
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.projection import record_tree

router = Router(tags=["visits"])


@router.get("/jobs/{number}/visits", response=answers(VisitsOut), auth=BearerToken("see-jobs"))
def visits_of_job(request: HttpRequest, number: str) -> VisitsOut:  # noqa: ARG001 -- ninja passes it
    """List the visits of a job."""
    job = job_named(number)
    rows = job.visits.order_by("number").annotate(rows=Count("events"))
    return VisitsOut(
        rows=[
            VisitOut(id=row.pk, job=job.number, number=row.number, opened_at=row.opened_at, events=row.rows)
            for row in rows
        ]
    )


@router.get("/visits/{int:visit}/record", response=answers(dict[str, Any]), auth=BearerToken("see-jobs"))
def record_of_visit(request: HttpRequest, visit: int) -> dict[str, Any]:  # noqa: ARG001 -- ninja passes it
    """Return the bench record, format 1, projected from the event rows as they are now."""
    return record_tree(_visit(visit))


@router.get("/visits/{int:visit}/judgement", response=answers(dict[str, Any]), auth=BearerToken("see-jobs"))
def judgement_of_visit(request: HttpRequest, visit: int) -> dict[str, Any]:  # noqa: ARG001 -- ninja passes it
    """Return the judgement of the record as it is now; 409 while it cannot be judged, with the reason."""
    state = judged(_visit(visit))
    if state.judgement is None:
        raise ApiError(409, state.cannot or "Nothing is recorded yet.", "Ask again when more is recorded.")
    return state.judgement.to_json_dict()


def _visit(key: int) -> Visit:
    row = Visit.objects.filter(pk=key).first() if key < 2**63 else None
    if row is None:
        raise missing("visit", key)
    return row
