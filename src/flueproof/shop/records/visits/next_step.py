"""What to do next at the bench: the order of arrival first, then the next useful test, then the work that is asked."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.bench.judgement import Action
from flueproof.bench.next_test.proposal import Proposal
from flueproof.papers.content.outcome import verdict_of
from flueproof.shop.records.models import Job
from flueproof.shop.records.visits.acts.finishing import may_be_signed
from flueproof.shop.records.visits.judged import Judged
from flueproof.shop.records.visits.rules.arrival import looked_for_water, memory_settled, powered
from flueproof.shop.records.visits.rules.call_first import GO_ON, RETURN, decision_of, last_decision, must_call
from flueproof.shop.records.visits.rules.phase import AS_FOUND

WORK_FORMS = {
    "mend-path": "part",
    "check-path": "plug-test",
    "separate": "plug-test",
    "upkeep": "upkeep",
    "settings": "settings",
    "adjust": "adjust",
    "replace-cell": "part",
    "mend-sensor": "part",
    "replace-filter": "part",
}


@dataclass(frozen=True, slots=True)
class NextStep:
    """One thing to do now.

    kind: a step kind whose form or measurement it is, or `call-owner`, `sign`, `work`, `stop`; words, why: in plain
    words; proposal: the core's, where it is one; action: the first that the verdict asks for.
    """

    kind: str
    words: str
    why: str
    proposal: Proposal | None = None
    action: Action | None = None


def next_step(found: Judged, job: Job) -> NextStep:
    """Return what comes next; see the head of this module."""
    if not (powered(found.record) or looked_for_water(found.record)):
        return NextStep(
            "drain",
            "Drain trap and hose, and look for water. Power stays off.",
            "Water drawn into a running pump ruins cells and board.",
        )
    proposal = found.proposal
    if proposal is None:
        return NextStep("stop", "This record cannot be judged as it stands.", found.cannot)
    if not proposal.stop:
        return NextStep(proposal.kind, proposal.words, proposal.why, proposal)
    return _after_testing(found, job, proposal)


def _after_testing(found: Judged, job: Job, proposal: Proposal) -> NextStep:
    decision = decision_of(last_decision(job))
    if found.phase == AS_FOUND and decision not in {GO_ON, RETURN} and must_call(job, found.judgement):
        return NextStep(
            "call-owner",
            "Call the owner before anything is adjusted.",
            "So it was ordered or agreed. The clock stops until the owner has decided.",
            proposal,
        )
    verdict = verdict_of(found.judgement) if found.judgement is not None else None
    if may_be_signed(found):
        return NextStep("sign", "Done at the bench: ready to sign.", proposal.why, proposal)
    action = verdict.actions[0] if verdict is not None and verdict.actions else None
    if action is None or action.do not in WORK_FORMS:
        return NextStep("stop", proposal.words, proposal.why, proposal, action)
    if not memory_settled(found.record) and WORK_FORMS[action.do] in {"part", "settings"}:
        return NextStep(
            "memory",
            "Back up what the analyzer has stored, or ask the owner.",
            "The work that comes next may wipe it.",
            proposal,
            action,
        )
    return NextStep("work", action.do, action.why, proposal, action)
