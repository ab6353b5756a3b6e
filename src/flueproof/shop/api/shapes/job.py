"""Jobs as they travel."""

from __future__ import annotations

from datetime import date, datetime
from typing import Literal

from ninja import Schema
from pydantic import Field

from flueproof.shop.api.shapes.owner import DecisionRule
from flueproof.shop.records.models import Job

Service = Literal["verify", "verify-adjust", "repair", "call-first"]
State = Literal[
    "requested",
    "arrived",
    "bench",
    "held",
    "parts",
    "to-sign",
    "to-return",
    "sent-on",
    "shipped",
    "returned",
    "dropped",
]


class JobNew(Schema):
    """A job to open: for an analyzer on file."""

    analyzer: int = Field(description="Key of the analyzer.")
    service: Service = "verify-adjust"
    complaint: str = Field("", max_length=4000, description="In the owner's words.")
    promised_on: date | None = None
    rush: bool = False
    due_wanted: bool = Field(False, description="Counts only where the owner agreed to due dates.")
    as_found: bool = Field(True, description="As-found values wanted.")


class JobChange(Schema):
    """What to change; fields left out stay. `version`: the one that was seen."""

    version: int = Field(ge=0)
    service: Service | None = None
    decision_rule: DecisionRule | None = None
    complaint: str | None = Field(None, max_length=4000)
    enclosed: list[str] | None = Field(None, max_length=40)
    condition: str | None = Field(None, max_length=300)
    promised_on: date | None = None
    rush: bool | None = None
    due_wanted: bool | None = None


class JobMove(Schema):
    """Where a job should go. Holding and going on from a hold need their words; they are kept with the job."""

    to: State
    why: str = Field("", max_length=1000, description="The reason, or what was decided.")
    waits_for: str = Field("", max_length=200, description="Shown on the tag while the job is held.")
    decided_by: str = Field("", max_length=120, description="Who decided, when a held job goes on.")


class JobOut(Schema):
    """A job."""

    number: str
    version: int
    changed_at: datetime
    owner: int
    analyzer: int
    serial: str
    state: str
    waits_for: str
    service: str
    decision_rule: str
    as_found: bool
    due_wanted: bool
    complaint: str
    enclosed: list[str]
    condition: str
    received_on: date | None
    promised_on: date | None
    rush: bool
    opened_at: datetime
    closed_at: datetime | None
    clock_stopped_at: datetime | None


class JobsOut(Schema):
    """A page of jobs."""

    rows: list[JobOut]
    next: str


class VisitOut(Schema):
    """The bench part of a job."""

    id: int
    job: str
    number: int
    opened_at: datetime
    events: int = Field(description="Rows of its record so far.")


class VisitsOut(Schema):
    """The visits of a job."""

    rows: list[VisitOut]


def job_out(job: Job) -> JobOut:
    """Return a job as it travels."""
    return JobOut(
        number=job.number,
        version=job.version,
        changed_at=job.changed_at,
        owner=job.owner_id,
        analyzer=job.analyzer_id,
        serial=job.analyzer.serial,
        state=job.state,
        waits_for=job.waits_for,
        service=job.service,
        decision_rule=job.decision_rule,
        as_found=job.as_found,
        due_wanted=job.due_wanted,
        complaint=job.complaint,
        enclosed=list(job.enclosed),
        condition=job.condition,
        received_on=job.received_on,
        promised_on=job.promised_on,
        rush=job.rush,
        opened_at=job.opened_at,
        closed_at=job.closed_at,
        clock_stopped_at=job.clock_stopped_at,
    )
