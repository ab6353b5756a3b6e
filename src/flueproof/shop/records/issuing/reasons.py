"""What stands against signing a visit now, in words: the page shows it, the service refuses by it."""

from __future__ import annotations

import json
from typing import Final

from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.step import MeasuringStep
from flueproof.papers.content.references import letters_of
from flueproof.shop.records.issuing.on_file import due_date_not_agreed
from flueproof.shop.records.issuing.refused import Reason
from flueproof.shop.records.models import BenchEvent, Job, Paper, Person, Reference, Shop, Visit
from flueproof.shop.records.people.rights import may
from flueproof.shop.records.visits.chain import broken_links
from flueproof.shop.records.visits.judged import Judged
from flueproof.shop.records.visits.projection import STEP

_NOT_FROM: Final = {
    "requested": "The analyzer is not here yet.",
    "held": "The job is on hold. Release it first.",
    "returned": "The analyzer went back. A paper that is wrong is amended; new work is a new job.",
    "dropped": "The job was dropped.",
}


def standing_paper(visit: Visit) -> Paper | None:
    """Return the visit's paper that counts: the newest that no other took the place of."""
    return visit.papers.filter(amended_by=None).order_by("-id").first()


def reasons_against(
    visit: Visit, signer: Person, stands: Judged, shop: Shop, *, amending: Paper | None = None
) -> list[Reason]:
    """Return what stands against signing; empty when it may be signed.

    amending: the paper whose place a new one takes; then the job's state and that paper itself are no reasons.
    """
    found = [*_of_the_record(visit, stands), *_of_the_signer(visit, signer, stands, shop, amending)]
    if amending is None:
        found += [*_of_the_job(visit.job), *_of_earlier_papers(visit, stands)]
    return found


def measured_by(visit: Visit, record: Record, person: Person) -> list[str]:
    """Return the ids of standing measuring steps that a person recorded, or that bear their name."""
    measuring = {step.id: step.by for step in record.standing_steps() if isinstance(step, MeasuringStep)}
    rows = BenchEvent.objects.filter(visit=visit, kind=STEP, by=person).values_list("body", flat=True)
    mine = {step_id for step_id in map(_step_id, rows) if step_id in measuring}
    return sorted(mine | {step_id for step_id, name in measuring.items() if name == person.name_on_papers})


def _step_id(body: str) -> str:
    return str(json.loads(body).get("id", ""))


def _of_the_record(visit: Visit, stands: Judged) -> list[Reason]:
    if broken := broken_links(visit):
        said = "; ".join(broken)
        return [
            Reason("chain-broken", f"The record was changed outside the program: {said}. Restore it from a backup.")
        ]
    if stands.record is None:
        return [Reason("nothing-recorded", "Nothing is recorded on the bench yet.")]
    if stands.judgement is None:
        return [Reason("not-judged", f"The record cannot be judged: {stands.cannot}")]
    used = list(letters_of(stands.record))
    gone = Reference.objects.filter(code__in=used, state="withdrawn").values_list("code", "withdrawn_why")
    return [
        Reason("withdrawn-reference", f"{code} was withdrawn ({why or 'no reason given'}). Measure again without it.")
        for code, why in gone
    ]


def _of_the_signer(visit: Visit, signer: Person, stands: Judged, shop: Shop, amending: Paper | None) -> list[Reason]:
    right = "sign" if amending is None else "amend"
    if not may(signer, right):
        return [Reason("no-right", "Your role may not sign.")]
    if not shop.signers_may_sign_own_work and stands.record is not None:
        own = measured_by(visit, stands.record, signer)
        if own:
            text = f"You measured {len(own)} of these steps yourself; in this shop another person signs then."
            return [Reason("own-work", text)]
    return []


def _of_the_job(job: Job) -> list[Reason]:
    found = [Reason(f"job-{job.state}", _NOT_FROM[job.state])] if job.state in _NOT_FROM else []
    if job.state == "held" and job.waits_for:
        found = [Reason("job-held", f"The job is on hold: {job.waits_for}. Release it first.")]
    return found


def _of_earlier_papers(visit: Visit, stands: Judged) -> list[Reason]:
    found = []
    paper = standing_paper(visit)
    if paper is not None and paper.kind == "certificate" and paper.record_hash != stands.last_hash:
        text = f"{paper.number} was issued for this visit. What changed since goes into an amended paper."
        found.append(Reason("paper-stands", text))
    if due_date_not_agreed(visit.job, stands.tree):
        text = (
            "The record asks for a due date, and the owner does not agree to one (any longer). "
            "Take the owner's word into the record first."
        )
        found.append(Reason("due-not-agreed", text))
    return found
