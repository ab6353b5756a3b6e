"""The bench page as a whole, ready for its template."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils import timezone

from flueproof.shop.bench.forms.choosing import FEEDS, PROBES
from flueproof.shop.bench.forms.kinds import OFFERED
from flueproof.shop.bench.presenters.log import LogLine, log_lines
from flueproof.shop.bench.presenters.next_test import NextView, next_view
from flueproof.shop.bench.presenters.plan import PlanPart, plan_parts
from flueproof.shop.bench.presenters.results import Results, results_of
from flueproof.shop.bench.presenters.units import paper_units
from flueproof.shop.frame.forms.pressure import gauge_unit
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.models import JobMoment, Person, Reference, Visit
from flueproof.shop.records.visits.acts.approved import Answered, answered_quote
from flueproof.shop.records.visits.acts.finishing import may_be_reported, may_be_signed
from flueproof.shop.records.visits.judged import Judged, judged
from flueproof.shop.records.visits.looks.warming import warm_in_s
from flueproof.shop.records.visits.next_step import next_step
from flueproof.shop.records.visits.plan import plan_of
from flueproof.shop.records.visits.rules.call_first import decision_of, last_decision, must_call
from flueproof.shop.records.visits.rules.phase import AS_FOUND


@dataclass(frozen=True, slots=True)
class BenchPage:
    """Everything that changes on the page as the visit goes on."""

    found: Judged
    next: NextView
    plan: Sequence[PlanPart]
    results: Results
    log: Sequence[LogLine]
    gases: Sequence[Reference]
    calls: bool
    decision: JobMoment | None
    decided: str
    answered: Answered | None
    signable: bool
    reportable: bool
    can_finish: bool
    warm_in_s: int
    wait_s: int
    gauge_in: str
    offered: Any = OFFERED
    feeds: Any = FEEDS
    probes: Any = PROBES


def bench_page(visit: Visit, person: Person, now: datetime, rack: Sequence[Reference]) -> BenchPage:
    """Return the page of a visit for a person; rack: what stands in the shop, in use."""
    found = judged(visit, timezone.localtime(now).date())
    job = visit.job
    step = next_step(found, job, now)
    decides = step.proposal.decides if step.proposal is not None else ()
    decision = last_decision(job)
    signable = may_be_signed(found)
    return BenchPage(
        found,
        next_view(step, found, rack, paper_units(person)),
        plan_parts(plan_of(found), found.profile, person, found.phase, decides),
        results_of(found.judgement, found.profile, person),
        log_lines(found),
        [one for one in rack if one.kind == "test-gas"],
        found.phase == AS_FOUND and must_call(job, found.judgement),
        decision,
        decision_of(decision),
        answered_quote(job) if step.kind == "call-owner" else None,
        signable,
        not signable and step.proposal is not None and step.proposal.stop and may_be_reported(found),
        job.state in {"bench", "held"},
        math.ceil(warm_in_s(found, now)),
        0 if step.until is None else math.ceil((step.until - now).total_seconds()),
        gauge_unit(the_shop()),
    )
