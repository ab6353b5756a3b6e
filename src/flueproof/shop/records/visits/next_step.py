"""What to do next at the bench: the order of arrival first, then the next useful test, then the work that is asked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from flueproof.bench.judgement import Action
from flueproof.bench.next_test.proposal import Proposal
from flueproof.bench.verdict.contradiction import CODE
from flueproof.papers.content.outcome import verdict_of
from flueproof.shop.records.models import Job
from flueproof.shop.records.visits.acts.finishing import may_be_signed
from flueproof.shop.records.visits.judged import Judged
from flueproof.shop.records.visits.rules.arrival import looked_for_water, memory_settled, powered
from flueproof.shop.records.visits.rules.before_gas import before_gas
from flueproof.shop.records.visits.rules.call_first import GO_ON, RETURN, decision_of, last_decision, must_call
from flueproof.shop.records.visits.rules.phase import AS_FOUND, AS_LEFT
from flueproof.shop.records.visits.rules.work_left import beyond_order, work_left

ON_GAS = frozenset({"test-gas", "swap-test"})
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

    kind: a step kind whose form or measurement it is, or `call-owner`, `sign`, `work`, `wait`, `stop`; words, why:
    in plain words; proposal: the core's, where it is one; action: the first that the verdict asks for; until:
    of a `wait`.
    """

    kind: str
    words: str
    why: str
    proposal: Proposal | None = None
    action: Action | None = None
    until: datetime | None = None


def next_step(found: Judged, job: Job, now: datetime) -> NextStep:
    """Return what comes next; see the head of this module."""
    if not (powered(found.record) or looked_for_water(found.record)):
        return NextStep(
            "drain",
            "Drain trap and hose, and look for water. Power stays off.",
            "Water drawn into a running pump ruins cells and board.",
        )
    proposal = found.proposal
    if (contradiction := _contradiction(found)) is not None:
        return contradiction
    if proposal is None:
        return NextStep("stop", "This record cannot be judged as it stands.", found.cannot)
    if not proposal.stop:
        return _before_left(found, proposal) or _before_gas(found, proposal, now) or _as_proposed(proposal)
    return _after_testing(found, job, proposal)


def _contradiction(found: Judged) -> NextStep | None:
    """Two readings of one gas that exclude each other: one is struck out before anything else is measured."""
    notes = found.judgement.notes if found.judgement is not None else ()
    note = next((one for one in notes if one.code == CODE and one.blocks), None)
    return None if note is None else NextStep("strike", "Strike out the reading that is wrong.", note.text)


def _as_proposed(proposal: Proposal) -> NextStep:
    return NextStep(proposal.kind, proposal.words, proposal.why, proposal)


def _before_left(found: Judged, proposal: Proposal) -> NextStep | None:
    """Work that is still to be done before the state as left is measured."""
    action = work_left(found) if found.phase == AS_LEFT else None
    return None if action is None else NextStep("work", action.do, action.why, proposal, action)


def _before_gas(found: Judged, proposal: Proposal, now: datetime) -> NextStep | None:
    first = before_gas(found, now) if proposal.kind in ON_GAS else None
    return None if first is None else NextStep(first.kind, first.words, first.why, until=first.until)


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
    if found.phase == AS_FOUND and action is not None and decision not in {GO_ON, RETURN} and beyond_order(job, action):
        return NextStep(
            "call-owner",
            "Call the owner: this needs a part, which the order does not cover.",
            f"{action.why} The clock stops until the owner has decided.",
            proposal,
            action,
        )
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
