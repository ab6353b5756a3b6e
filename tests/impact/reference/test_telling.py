"""What an owner is told when a reference of the shop's own was wrong."""

import copy
import datetime as dt
import json

import pytest

from flueproof.impact.correcting.correct import correct
from flueproof.impact.correcting.over_time import correct_over_time
from flueproof.impact.correcting.readings import field_readings
from flueproof.impact.duties.notice import NoticeFrame, notice_of, notice_text
from flueproof.impact.reference.change import ReferenceChange
from flueproof.impact.reference.rejudging import judge_again
from flueproof.impact.reference.telling import errors_that_went_home, history_since_visit, reference_duty
from flueproof.impact.statements.wording import ONE_RULE
from flueproof.simulate.population import usual_plan
from flueproof.simulate.truth import Truth

FRAME = NoticeFrame("555-0199", "R. Vale", dt.date(2026, 12, 1))


def bottle(record, value):
    content = copy.deepcopy(record.to_json_dict()["references"]["cyl-co-500"])
    content["components"]["co"]["value"] = value
    return ReferenceChange(content)


def adjusted_on_the_bottle(visit):
    """Adjusted on a bottle whose certificate says 502 ppm."""
    usual_plan(visit)
    visit.adjust("co", "cyl-co-500")
    visit.as_left()
    visit.test_gas("cyl-co-500", "tip")


@pytest.fixture(name="low", scope="module")
def _low(bench):
    """A bottle that held 600 ppm was taken for 502: everything adjusted on it reads low."""
    record, profile, _ = bench(plan=adjusted_on_the_bottle)
    return record, profile, bottle(record, 600.0)


def test_co_that_was_called_conform_and_reads_low_is_a_call_the_same_day(low):
    again = judge_again(*low)
    duty = reference_duty(again, "bottle C-7731")
    assert (duty.kind, duty.same_day, duty.do_not_use) == ("reference", True, True)
    assert "CO read too low" in duty.headline
    assert "we said error" in duty.sizes[0].words
    assert "outside the limit" in duty.sizes[0].words
    json.dumps(duty.as_dict(), allow_nan=False)


def test_the_letter_owns_up_says_before_and_after_and_keeps_the_rule(low):
    duty = reference_duty(judge_again(*low), "bottle C-7731")
    text = notice_text(notice_of(duty, low[0], FRAME))
    for part in ("a reference of ours that has turned out wrong", "stays on file as it was", "Please stop using",
                 "since that visit", ONE_RULE, "502.0 ppm", "600.0 ppm"):  # fmt: skip
        assert part in text


def test_readings_since_the_visit_are_low_by_what_the_bottle_was_off(low, gas):
    errors = errors_that_went_home(*low)
    history = history_since_visit(errors, dt.date(2026, 11, 3), dt.date(2026, 12, 1))
    done = correct_over_time(field_readings(o2_pct=5.0, co_ppm=100.0), ["2026-11-20"], history, gas)
    for course in done.courses().values():
        assert course["co_ppm"].value[0] == pytest.approx(100.0 * 600 / 502, rel=0.04)


def test_nothing_changed_is_nothing_to_tell(low):
    record, profile, _ = low
    assert reference_duty(judge_again(record, profile, bottle(record, 502.5)), "bottle") is None


def test_a_bottle_that_was_too_strict_is_told_without_a_stop(bench):
    record, profile, _ = bench(Truth(gain={"co": 1.2}))
    duty = reference_duty(judge_again(record, profile, bottle(record, 600.0)), "bottle")
    assert (duty.same_day, duty.do_not_use) == (False, False)
    assert "too strict" in duty.why
    assert "Please stop using" not in notice_text(notice_of(duty, record, FRAME))


def test_without_work_the_state_as_found_went_home(bench, gas):
    record, profile, _ = bench()
    errors = errors_that_went_home(record, profile, bottle(record, 600.0))
    assert correct(field_readings(o2_pct=5.0, co_ppm=300.0), errors, gas)["co_ppm"].value[0] > 320.0
