"""What a judgement obliges the shop to do."""

import json

import pytest

from flueproof.bench.judge.judge import judge_record
from flueproof.impact.duties.duty import duty_of, failed_points
from flueproof.impact.duties.notice import several
from flueproof.impact.found.from_record import errors_as_found
from flueproof.simulate.population import usual_plan
from flueproof.simulate.truth import Truth


def duty(bench, truth, **how):
    record, profile, _ = bench(truth, **how)
    return duty_of(judge_record(record, profile), errors_as_found(record, profile))


def test_a_right_unit_obliges_to_nothing(bench):
    assert duty(bench, Truth()) is None


def test_co_that_reads_low_is_a_call_the_same_day_and_a_tag(bench):
    one = duty(bench, Truth(gain={"co": 0.8}))
    assert (one.kind, one.same_day, one.do_not_use) == ("co-low", True, True)
    assert "call the owner today" in one.why
    assert one.sizes[0].channel == "co"
    json.dumps(one.as_dict(), allow_nan=False)


def test_a_cell_without_any_reading_too(bench):
    one = duty(bench, Truth(dead=frozenset({"co"})))
    assert one.kind == "co-low"
    assert one.do_not_use


def test_a_tag_comes_off_what_was_made_good_but_the_call_stays(bench):
    def plan(visit):
        usual_plan(visit)
        visit.adjust("co", "cyl-co-500")
        visit.as_left()
        visit.test_gas("cyl-co-500", "tip")
        visit.test_gas("can-co-100", "tip")

    one = duty(bench, Truth(gain={"co": 0.85}), plan=plan)
    assert (one.kind, one.same_day, one.do_not_use) == ("co-low", True, False)


@pytest.mark.parametrize(("truth", "channel"), [
    (Truth(gain={"co": 1.25}), "co"),
    (Truth(o2_zero_pct=1.5), "o2"),
    (Truth(probe_emf_error=0.06), "stack"),
    (Truth(draft_gain=0.5), "draft"),
    (Truth(air_sensor_error_k=4.0), "air"),
    (Truth(missing=frozenset({"air"})), "air"),
])  # fmt: skip
def test_every_other_failure_as_found_is_told_too(bench, truth, channel):
    one = duty(bench, truth)
    assert (one.kind, one.same_day, one.do_not_use) == ("as-found", False, False)
    assert channel in [size.channel for size in one.sizes]


def test_a_leak_says_what_it_does_and_what_not(bench):
    one = duty(bench, Truth(dilution_probe=0.06))
    assert one.kind == "as-found"
    assert {"co", "o2", "co_air_free"} <= {size.channel for size in one.sizes}
    assert any("CO air-free stays as it is" in words for words in one.further)
    assert "leak" in one.headline.lower()


def test_a_unit_that_cannot_be_told_says_so_and_gives_both_sizes(bench):
    def plan(visit):
        visit.test_gas("cyl-co-500", "tip")
        visit.test_gas("cyl-co-o2", "tip")

    one = duty(bench, Truth(dilution_probe=0.06), plan=plan)
    assert {"co", "o2", "co_air_free"} <= {size.channel for size in one.sizes}
    assert any("could not be told" in words for words in one.further)
    assert not any("CO air-free stays as it is" in words for words in one.further)


def test_without_errors_the_points_speak(bench):
    record, profile, _ = bench(Truth(gain={"co": 0.8}))
    one = duty_of(judge_record(record, profile), None, "si")
    assert one.kind == "co-low"
    assert one.sizes[0].unit == "ppm"


def test_only_counting_points_as_found_count(bench):
    record, profile, _ = bench(Truth(gain={"co": 0.8}))
    points = failed_points(judge_record(record, profile))
    assert points
    assert all(point.counts and point.phase == "as-found" for point in points)


def test_the_list_begins_with_co_that_reads_low(bench):
    one, other = duty(bench, Truth(gain={"co": 0.8})), duty(bench, Truth(draft_gain=0.5))
    assert several([other, one]) == (one, other)
