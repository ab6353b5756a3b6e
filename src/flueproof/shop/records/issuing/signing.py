"""Signing a visit: one transaction from the check of the record to paper, due dates and the job's next state."""

from __future__ import annotations

import json
from collections.abc import Collection
from datetime import datetime

from django.db import transaction

from flueproof.papers.errors import PapersError
from flueproof.shop.records.access.outbox import tell
from flueproof.shop.records.duties.arising import duty_of_visit
from flueproof.shop.records.issuing.making import CERTIFICATE, make_paper
from flueproof.shop.records.issuing.obligations import update_obligations
from flueproof.shop.records.issuing.reasons import reasons_against
from flueproof.shop.records.issuing.refused import Reason, RecordChangedError, SigningRefusedError
from flueproof.shop.records.jobs.moving import MoveRefusedError, move_job, note_moment
from flueproof.shop.records.models import Paper, Person, Shop, Visit
from flueproof.shop.records.visits.judged import Judged, judged


def sign_visit(
    visit: Visit,
    signer: Person,
    seen_hash: str,
    now: datetime,
    shop: Shop,
    *,
    obligations: Collection[int] | None = None,
) -> Paper:
    """Issue the paper that a visit's record calls for, and return it; the same record signed twice is one paper.

    seen_hash: hash of the last event row of the record that the signer looked at; obligations: ids of those that this
    work fulfils, None for all of the analyzer. A certificate brings its obligations forward; the job goes on to
    "signed, to go back".
    Raises: RecordChangedError (the record grew since), SigningRefusedError; nothing is written then.
    """
    try:
        with transaction.atomic():
            locked = Visit.objects.select_for_update().get(pk=visit.pk)
            if issued := locked.papers.filter(record_hash=seen_hash, amended_by=None).order_by("-id").first():
                return issued
            stands = judged(locked)
            refuse_a_changed_record(locked, seen_hash, stands)
            if against := reasons_against(locked, signer, stands, shop):
                raise SigningRefusedError(against)
            paper = make_paper(locked, stands, signer, now, shop)
            if paper.kind == CERTIFICATE and stands.record is not None and paper.outcome != "outside-as-ordered":
                update_obligations(locked.job, stands.record, obligations)
            duty_of_visit(locked, now, signer)
            note_moment(locked.job, "paper issued", signer, now, text=paper.number)
            move_job(locked.job, "to-return", signer, now, why=f"{paper.number} signed")
            tell("paper-issued", told(paper), now)
    except PapersError as trouble:
        raise SigningRefusedError([not_set(trouble)]) from trouble
    except MoveRefusedError as trouble:
        raise SigningRefusedError([Reason("job-state", str(trouble))]) from trouble
    return paper


def refuse_a_changed_record(visit: Visit, seen_hash: str, stands: Judged) -> None:
    """Refuse when the record is no longer the one that was looked at.

    Raises: RecordChangedError with what came since.
    """
    if seen_hash != stands.last_hash:
        raise RecordChangedError(came_since(visit, seen_hash))


def came_since(visit: Visit, seen_hash: str) -> list[str]:
    """Return what was added to a record after the row with this hash, a line each."""
    seen = visit.events.filter(hash=seen_hash).values_list("position", flat=True).first()
    if seen is None:
        return ["The page showed another record."]
    rows = visit.events.filter(position__gt=seen).select_related("by").order_by("position")
    return [f"{_in_words(event.kind, json.loads(event.body))}, by {event.by.name_on_papers}" for event in rows]


def not_set(trouble: PapersError) -> Reason:
    """Return what to say when a paper could not be made."""
    return Reason(
        "not-set", f"The paper could not be made, so nothing was issued and no number was used. The reason: {trouble}"
    )


def told(paper: Paper) -> dict[str, str | None]:
    """Return what other programs are told of an issued paper."""
    return {
        "number": paper.number,
        "kind": paper.kind,
        "job": paper.job.number,
        "outcome": paper.outcome,
        "issued_on": paper.issued_on.isoformat(),
        "due_on": paper.due_on.isoformat() if paper.due_on else None,
        "amends": paper.amends.number if paper.amends else None,
    }


def _in_words(kind: str, body: dict[str, object]) -> str:
    if kind == "head":
        return "Owner, order or analyzer data changed"
    if kind == "reference":
        return f"Reference {body.get('id')} taken into the record"
    what = str(body.get("kind", "step")).replace("-", " ")
    if what == "strike":
        return f"Step {body.get('strikes')} struck out: {body.get('why')}"
    return f"Step {body.get('id')} added: {what}"
