"""A reference turns out wrong: before and after, which points, and the old record untouched."""

import copy
import datetime as dt
import json

import pytest

from flueproof.bench.errors import RecordError
from flueproof.bench.judge.judge import judge_record
from flueproof.impact.errors import ReferenceChangeError
from flueproof.impact.reference.change import ReferenceChange, record_with, steps_touched
from flueproof.impact.reference.many_visits import VisitToJudge, judge_visits_again, summary_of
from flueproof.impact.reference.rejudging import judge_again, judge_signed_again
from flueproof.simulate.truth import Truth


def right(record, key="cyl-co-500", value=430.0, **more):
    """The bottle held less than its certificate said."""
    content = copy.deepcopy(record.to_json_dict()["references"][key])
    content["components"]["co"]["value"] = value
    return ReferenceChange(content | more)


def test_a_bottle_that_held_less_turns_conform_into_not_conform(bench):
    record, profile, _ = bench()
    again = judge_again(record, profile, right(record))
    co = [point for point in again.points if point.channel == "co"]
    assert co
    assert all((point.before, point.after, point.direction) == ("conform", "not-conform", "worse") for point in co)
    assert all(point.error_after - point.error_before == pytest.approx(72.0) for point in co)
    assert set(again.danger) == set(co)
    assert again.outcome_before["as-found"] != again.outcome_after["as-found"]
    json.dumps([point.as_dict() for point in again.points], allow_nan=False)


def test_a_bottle_that_held_more_can_turn_the_other_way(bench):
    record, profile, _ = bench(Truth(gain={"co": 1.2}))
    again = judge_again(record, profile, right(record, value=600.0))
    assert {point.direction for point in again.points if point.channel == "co" and point.counts} == {"better"}
    assert not again.danger


def test_points_on_other_references_are_not_listed(bench):
    record, profile, _ = bench()
    again = judge_again(record, profile, right(record))
    assert {point.channel for point in again.points} == {"o2", "co"}  # both channels read that bottle
    assert {point.step for point in again.points} <= set(steps_touched(record, right(record)))


def test_nothing_of_the_old_record_is_altered(bench):
    record, profile, _ = bench()
    before, judged = record.model_dump_json(), judge_record(record, profile)
    judge_again(record, profile, right(record))
    assert record.model_dump_json() == before
    assert judge_record(record, profile).to_json_dict() == judged.to_json_dict()


def test_before_is_what_was_signed(bench):
    record, profile, _ = bench()
    signed = judge_record(record, profile)
    again = judge_signed_again(record, profile, signed, right(record))
    assert again.before.points == signed.points
    assert again.before.bundle == signed.bundle


def test_the_same_content_changes_nothing(bench):
    record, profile, _ = bench()
    again = judge_again(record, profile, right(record, value=502.0))
    assert not again.changed
    assert all(point.error_before == point.error_after for point in again.points)


def test_only_steps_since_the_day_are_touched(bench):
    record, profile, _ = bench()
    content = right(record).content
    assert steps_touched(record, ReferenceChange(content, since=dt.date(2026, 11, 3)))
    late = ReferenceChange(content, since=dt.date(2026, 11, 4))
    assert steps_touched(record, late) == ()
    with pytest.raises(ReferenceChangeError, match="not judged with this reference"):
        judge_again(record, profile, late)


def test_steps_before_the_day_keep_the_old_entry(bench):
    def plan(visit):
        visit.test_gas("cyl-co-500", "tip")
        visit.wait(60 * 24)
        visit.test_gas("cyl-co-500", "tip")

    record, _, _ = bench(plan=plan)
    made = record_with(record, ReferenceChange(right(record).content, since=dt.date(2026, 11, 4)))
    used = [step.reference for step in made.steps if step.kind == "test-gas"]
    assert used == ["cyl-co-500", "cyl-co-500-right"]
    assert made.references["cyl-co-500"].components["co"].value == 502.0
    assert made.references["cyl-co-500-right"].components["co"].value == 430.0


def test_a_thermometer_that_read_high_moves_what_it_said(bench):
    record, profile, _ = bench()
    content = record.to_json_dict()["references"]["therm-1"]
    again = judge_again(record, profile, ReferenceChange(content, shift=-3.0))
    (stack,) = [point for point in again.points if point.channel == "stack"]
    assert stack.reference_after == pytest.approx(stack.reference_before - 3.0)
    assert stack.error_after == pytest.approx(stack.error_before + 3.0)


def test_a_manometer_in_other_units_shifts_by_as_much(bench):
    record, profile, _ = bench()
    content = record.to_json_dict()["references"]["mano-1"] | {"unit": "hPa", "expanded_uncertainty": 0.004}
    again = judge_again(record, profile, ReferenceChange(content, shift=0.05))
    (draft,) = [point for point in again.points if point.channel == "draft"]
    assert draft.reference_after == pytest.approx(draft.reference_before + 5.0)


def test_a_content_that_is_none_is_refused(bench):
    record, profile, _ = bench()
    broken = right(record)
    del broken.content["expires"]
    with pytest.raises(RecordError):
        judge_again(record, profile, broken)


def test_a_reference_that_cannot_be_told_is_refused(bench):
    record, _, _ = bench()
    with pytest.raises(ReferenceChangeError, match="neither number nor certificate"):
        steps_touched(record, ReferenceChange({"kind": "test-gas"}))
    assert steps_touched(record, ReferenceChange({"kind": "test-gas"}, key="no-such")) == ()


class TestManyVisits:
    @pytest.fixture(name="visits")
    def _visits(self, bench):
        one, other = bench(seed=1), bench(Truth(gain={"co": 0.93}), seed=2)
        elsewhere = bench(
            seed=3, references=("can-co-100", "cyl-co-o2", "therm-1"), plan=lambda v: v.test_gas("can-co-100")
        )

        def broken():
            raise RecordError("$.steps[0]", "is broken.", "Mend it.")

        made = [VisitToJudge(f"J-{n}", lambda pair=pair: pair[:2]) for n, pair in enumerate((one, other, elsewhere), 1)]
        made.insert(1, VisitToJudge("J-x", broken))
        return made, right(one[0])

    def test_one_that_fails_does_not_stop_the_rest(self, visits):
        told = []
        again = list(judge_visits_again(visits[0], visits[1], progress=lambda *done: told.append(done), total=4))
        assert [one.name for one in again] == ["J-1", "J-x", "J-2", "J-3"]
        assert told == [(1, 4), (2, 4), (3, 4), (4, 4)]
        assert "is broken" in again[1].trouble
        assert again[3].rejudged is None
        assert not again[3].trouble
        summary = summary_of(again)
        assert (summary["visits"], summary["judged_again"], summary["untouched"], summary["troubles"]) == (4, 2, 1, 1)
        assert summary["that_lost_conformity"] == 1  # the other cell reads 7 % low: the lower bottle suits it
        assert summary["order"][-1] == "J-3"
        json.dumps(summary)

    def test_each_comes_as_soon_as_it_is_done(self, visits):
        first = next(judge_visits_again(visits[0], visits[1]))
        assert first.rejudged.danger
