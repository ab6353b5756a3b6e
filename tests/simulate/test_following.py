import datetime as dt

import numpy as np
import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.next_test.proposal import Proposal
from flueproof.bench.record.reader import record_from_json
from flueproof.simulate.bench_visit import BenchVisit
from flueproof.simulate.demo_visits.rack import record_head
from flueproof.simulate.errors import StepError
from flueproof.simulate.following import do_proposal, follow_proposals
from flueproof.simulate.truth import Truth

PROFILE = shipped_profile("two-cell-residential")


def visit_of(truth):
    head = record_head(
        PROFILE, job="J-1", number=1, received={"date": "2026-11-02", "condition": "dry", "enclosed": ["probe"]},
        order={"service": "verify-adjust", "decision_rule": "risk-2"},
    )  # fmt: skip
    start = dt.datetime(2026, 11, 3, 9, 0, tzinfo=dt.UTC)
    return BenchVisit(truth, PROFILE, head, np.random.default_rng(7), start, "bench")


def outcome(visit):
    return judge_record(record_from_json(visit.record()), PROFILE).as_found


def test_a_healthy_unit_is_ready_to_sign_after_one_application():
    visit = visit_of(Truth(gain={"co": 0.99}))
    followed = follow_proposals(visit)
    assert outcome(visit).outcome == "ready-to-sign"
    assert [one.kind for one in followed.proposals].count("test-gas") == 1
    assert followed.proposals[-1].stop


def test_a_leak_in_the_instrument_is_told_from_a_zero():
    visit = visit_of(Truth(dilution_instrument=0.08))
    follow_proposals(visit)
    actions = outcome(visit).actions
    assert [action.do for action in actions][:2] == ["mend-path", "check-path"]
    assert actions[0].where == "instrument"


def test_a_residual_current_is_not_called_a_leak():
    visit = visit_of(Truth(o2_zero_pct=1.2))
    follow_proposals(visit)
    assert [action.do for action in outcome(visit).actions] == ["replace-cell"]


def test_a_budget_bounds_the_gas():
    visit = visit_of(Truth(gain={"co": 0.8}))
    assert follow_proposals(visit, budget_l=4.0).litres <= 4.0


def test_an_impossible_step_is_refused():
    with pytest.raises(StepError, match="displayed"):
        do_proposal(visit_of(Truth()), Proposal("displayed", "", ""))
