"""One row per outcome: which paper, which title, which sticker."""

import math

import pytest

from flueproof.bench.judgement import Note, Verdict
from flueproof.papers.content.outcome import do_not_use, named, paper_kind

READY = Verdict("ready-to-sign", signable=True)


def without(sample, *kinds):
    given = sample.record_json()
    given["steps"] = [step for step in given["steps"] if step["kind"] not in kinds]
    return given


@pytest.mark.parametrize(
    ("found", "left", "title", "sticker"),
    [
        (READY, None, "Verification certificate", "VERIFIED"),
        (Verdict("work-needed"), READY, "Calibration certificate (verification and adjustment)", "CALIBRATED"),
        (Verdict("outside-as-ordered", signable=True), None,
         "Verification report: outside limits, returned as ordered", "OUTSIDE LIMITS"),
        (Verdict("limited", signable=True), None, "Limited verification: NO filter not tested", "LIMITED"),
    ],
)  # fmt: skip
def test_outcomes_that_are_signed(sample, record, found, left, title, sticker):
    kind = paper_kind(record, sample.judgement_of(as_found=found, as_left=left))
    assert kind.certificate
    assert (kind.title, kind.sticker) == (title, sticker)


@pytest.mark.parametrize("outcome", ["work-needed", "incomplete", "not-worth-repair", "beyond-our-access", "new-word"])
@pytest.mark.parametrize("signable", [True, False])
def test_outcomes_that_are_not_signed(sample, record, outcome, signable):
    kind = paper_kind(record, sample.judgement_of(as_found=Verdict(outcome, signable=signable), as_left=None))
    assert not kind.certificate
    assert kind.title == "Bench report: no certificate"
    assert kind.sticker is None


def test_a_good_outcome_that_may_not_be_signed_is_a_report(sample, record):
    stopped = sample.judgement_of(as_left=Verdict("ready-to-sign", signable=False))
    assert not paper_kind(record, stopped).certificate
    blocked = sample.judgement_of(notes=(Note("expired", "The cylinder was expired.", blocks=True),))
    assert not paper_kind(record, blocked).certificate
    assert not paper_kind(record, sample.judgement_of(as_found=None, as_left=None)).certificate


def test_a_refused_adjustment_makes_no_calibration(sample):
    given = sample.record_json()
    adjust = next(step for step in given["steps"] if step["kind"] == "adjust")
    adjust["accepted"] = False
    assert paper_kind(sample.record_of(given), sample.judgement_of()).title == "Verification certificate"


def test_a_struck_adjustment_makes_no_calibration(sample):
    given = sample.record_json()
    last = given["steps"][-1]
    given["steps"].append(
        {"id": "s99", "at": last["at"], "by": "R. Vale", "kind": "strike", "strikes": "s8", "why": "not done"}
    )
    assert paper_kind(sample.record_of(given), sample.judgement_of()).title == "Verification certificate"


def test_a_new_part_without_adjustment_is_a_repair(sample):
    given = without(sample, "adjust")
    given["steps"].insert(-1, {"id": "p1", "at": "2026-11-03T10:30:00-05:00", "by": "R. Vale", "kind": "part",
                               "done": "replaced", "what": "probe hose", "opened_case": False})  # fmt: skip
    assert paper_kind(sample.record_of(given), sample.judgement_of()).title == "Verification certificate after repair"


def test_what_was_not_tested_reads_as_a_phrase():
    assert named(()) == ""
    assert named(("NO filter: no gas",)) == "NO filter"
    assert named(("probe path (no probe came)", "NO filter not tested.")) == "probe path and NO filter"
    assert named(("a", "b", "c")) == "a, b and c"
    assert named(("a", "b", "c", "d")) == "a, b and 2 more"


class TestDoNotUse:
    """A tag is due while a CO channel was found low or dead and nothing as left makes it good."""

    def test_low_co_without_as_left(self, sample):
        low = sample.point("co", 502.0, 447.6)
        assert do_not_use(sample.judgement_of(points=(low,), as_left=None)) == (low,)

    def test_dead_co(self, sample):
        dead = sample.point("co", 502.0, math.nan, statement="not-conform")
        assert do_not_use(sample.judgement_of(points=(dead,))) == (dead,)

    def test_good_as_left_lifts_it(self, sample, judgement):
        assert do_not_use(judgement) == ()

    def test_an_undecided_as_left_does_not_lift_it(self, sample):
        low = sample.point("co", 502.0, 447.6)
        after = sample.point("co", 502.0, 480.0, phase="as-left", statement="undecided")
        assert do_not_use(sample.judgement_of(points=(low, after))) == (low,)

    def test_low_as_left_calls_for_it_even_where_as_found_was_good(self, sample):
        good = sample.point("co", 502.0, 500.0)
        after = sample.point("co", 502.0, 420.0, phase="as-left")
        assert do_not_use(sample.judgement_of(points=(good, after))) == (after,)

    def test_another_channels_as_left_does_not_lift_it(self, sample):
        low = sample.point("co", 502.0, 447.6)
        after = sample.point("o2", 0.0, 0.1, phase="as-left")
        assert do_not_use(sample.judgement_of(points=(low, after))) == (low,)

    @pytest.mark.parametrize("harmless", ["high", "undecided", "o2", "not counted"])
    def test_nothing_else_calls_for_it(self, sample, harmless):
        point = {
            "high": sample.point("co", 502.0, 560.0),
            "undecided": sample.point("co", 502.0, 480.0, statement="undecided"),
            "o2": sample.point("o2", 5.0, 3.0),
            "not counted": sample.point("co", 502.0, 447.6, counts=False),
        }[harmless]
        assert do_not_use(sample.judgement_of(points=(point,), as_left=None)) == ()
