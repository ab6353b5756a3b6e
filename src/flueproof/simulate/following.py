"""A simulated bench that does what the next-test proposal says until it says stop."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueproof.bench.next_test.gases import litres_spent
from flueproof.bench.next_test.proposing import next_test
from flueproof.bench.record.reader import record_from_json
from flueproof.simulate.errors import StepError
from flueproof.simulate.procedure import USUAL_VALUES

if TYPE_CHECKING:
    from flueproof.bench.next_test.proposal import Proposal
    from flueproof.simulate.bench_visit import BenchVisit

MOST_STEPS = 40


@dataclass(frozen=True, slots=True)
class Followed:
    """What following the proposals came to: the proposals in order, the last one `stop`, and the gas used [L]."""

    proposals: tuple[Proposal, ...]
    litres: float


def follow_proposals(visit: BenchVisit, *, budget_l: float | None = None) -> Followed:
    """Do what is proposed, step after step, until nothing useful is left.

    visit: a started visit (changed in place); budget_l: gas budget of the visit [L], None for no limit.
    Raises: StepError when the proposals do not come to an end.
    Source: own; proposals from bench.next_test.
    """
    proposals: list[Proposal] = []
    if not visit.steps:  # a record begins with a step; the first proposal would be this one anyway
        visit.room()
    while len(proposals) < MOST_STEPS:
        record = record_from_json(visit.record())
        proposal = next_test(record, visit.profile, budget_l=budget_l)
        proposals.append(proposal)
        if proposal.stop:
            return Followed(tuple(proposals), litres_spent(record, visit.profile))
        do_proposal(visit, proposal)
    raise StepError(f"{MOST_STEPS} proposals and no stop; the last was {proposals[-1].words}")


def do_proposal(visit: BenchVisit, proposal: Proposal) -> None:
    """Do one proposed step at the simulated bench.

    Raises: StepError for a kind that the simulated bench cannot do.
    Source: own.
    """
    kind, reference, feed = proposal.kind, proposal.reference or "", proposal.feed or "tip"
    if kind == "room":
        visit.room()
    elif kind == "zeroing":
        _switch_on(visit)
    elif kind == "test-gas":
        visit.test_gas(reference, feed, pinched=proposal.pinched)
    elif kind == "plug-test":
        visit.plug_test(feed)
    elif kind == "vacuum-hold":
        visit.vacuum_hold(feed)
    elif kind in {"temperature", "pressure"}:
        point = next(one for one in visit.profile.points if one.title in proposal.decides)
        likes = (*USUAL_VALUES.get(point.channel or "", ()), ((point.low or 0.0) + (point.high or 0.0)) / 2.0)
        value = next(like for like in likes if point.holds(like))
        if kind == "temperature":
            visit.temperature(reference, value, point.channel or "stack", point.of or "probe")
        else:
            visit.pressure(reference, value, point.channel or "draft")
    else:
        raise StepError(f"the simulated bench cannot do {kind!r}")


def _switch_on(visit: BenchVisit) -> None:
    """The first time at the bench; again means in clean air outdoors, logged as such."""
    if any(step["kind"] == "zeroing" for step in visit.steps):
        visit.room_air = dataclasses.replace(visit.room_air, co_ppm=0.0)
        visit.room()
        visit.zeroing("outdoors")
    else:
        visit.zeroing()
