"""A needed point is left out only in writing, and then no certificate claims it."""

import pytest

from flueproof.bench.errors import RecordError
from flueproof.papers.content.outcome import paper_kind
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.plan import plan_of
from flueproof.shop.records.visits.rules.skipping import skip_note, skips_of


def _state(visit, point):
    return next(line for line in plan_of(judged(visit)) if line.point.id == point)


def test_a_reason_is_needed(visit):
    with pytest.raises(RecordError, match="reason in writing"):
        skip_note("draft-one", "as-found", "  no ", judged(visit).profile)


def test_an_unknown_point_is_refused(visit):
    with pytest.raises(RecordError, match="no point"):
        skip_note("draft-nine", "as-found", "the hose is missing", judged(visit).profile)


@pytest.mark.usefixtures("ready")
class TestSkipped:
    def skip(self, add, visit, point="draft-one"):
        note = skip_note(point, judged(visit).phase, "draft hose did not come", judged(visit).profile)
        add(**note)
        return judged(visit).tree["steps"][-1]["id"]

    def test_the_reason_is_read_back(self, add, visit):
        self.skip(add, visit)
        skip = skips_of(judged(visit).record)["as-found", "draft-one"]
        assert skip.why == "draft hose did not come"
        assert _state(visit, "draft-one").state == "skipped"

    def test_it_is_not_proposed_any_more(self, add, visit, gas, rest):
        gas(500)
        for point in ("draft-one", "path-tight", "stack-hot"):
            self.skip(add, visit, point)
        assert judged(visit).proposal.stop

    def test_no_certificate_claims_it(self, add, visit, gas, rest):
        gas(500)
        add("plug-test", phase="as-found", path={"feed": "tip", "probe": "owner"}, pump="stalls", hiss_after_10_s=True)
        self.skip(add, visit)
        self.skip(add, visit, "stack-hot")
        found = judged(visit)
        title = next(point.title for point in found.profile.points if point.id == "draft-one")
        assert title in found.judgement.not_tested
        assert found.judgement.as_found.outcome == "incomplete"
        assert not paper_kind(found.record, found.judgement, found.profile).certificate

    def test_measured_after_all_it_counts(self, add, visit, gas, rest):
        gas(500)
        self.skip(add, visit)
        rest()
        assert _state(visit, "draft-one").state == "conform"
        assert judged(visit).judgement.as_found.outcome == "ready-to-sign"

    def test_a_struck_skip_leaves_nothing_out(self, add, visit):
        note = self.skip(add, visit)
        add("strike", strikes=note, why="the hose was found")
        assert _state(visit, "draft-one").state == "open"
