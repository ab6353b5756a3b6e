"""Readings as left that later work has made void. Own rule; 40 CFR 75 App. B 2.1.3(b): after work, the test again."""

import pytest

CO = "cyl-co-500"
ENTERED = {"unit": "ppm", "value": 502}


@pytest.fixture(name="adjusted")
def _adjusted(visit, truth):
    """Return a visit on a low CO cell, adjusted and good as left, with everything measured that it asks for."""

    def adjusted():
        bench = visit(truth(co=0.8), instrument=True)
        bench.adjust("co", CO)
        bench.as_left()
        bench.test_gas(CO, "tip")
        return bench

    return adjusted


def test_a_visit_that_ends_with_its_measurements_can_be_signed(adjusted, judge):
    assert judge(adjusted()).as_left.outcome == "ready-to-sign"


def test_a_second_adjustment_after_the_last_gas_cannot_be_signed(adjusted, judge):
    visit = adjusted()
    visit.happening("adjust", channel="co", reference=CO, entered=ENTERED, accepted=True, attempt=2)
    said = judge(visit)
    assert (said.as_left.outcome, said.as_left.signable) == ("incomplete", False)
    assert [action.channel for action in said.as_left.actions] == ["co"]
    assert "work-after-as-left" in [note.code for note in said.notes]


def test_a_refused_adjustment_after_the_last_gas_changes_nothing(adjusted, judge):
    visit = adjusted()
    visit.happening("adjust", channel="co", reference=CO, entered=ENTERED, accepted=False, attempt=2)
    assert judge(visit).as_left.outcome == "ready-to-sign"


def test_a_struck_adjustment_after_the_last_gas_changes_nothing(adjusted, judge):
    visit = adjusted()
    step = visit.happening("adjust", channel="co", reference=CO, entered=ENTERED, accepted=True, attempt=2)
    visit.happening("strike", strikes=step, why="other unit")
    assert judge(visit).as_left.outcome == "ready-to-sign"


def test_an_opened_case_voids_the_tightness_test_as_left_too(adjusted, judge):
    visit = adjusted()
    visit.plug_test("tip")
    visit.happening("part", done="repaired", what="pump", opened_case=True)
    visit.test_gas(CO, "tip")
    said = judge(visit).as_left
    assert (said.outcome, said.actions[0].do) == ("incomplete", "check-path")


def test_only_what_was_measured_after_the_last_work_is_judged(adjusted, judge, truth):
    visit = adjusted()
    visit.truth = truth(co=0.5)  # the cell gives way after the first adjustment
    visit.test_gas(CO, "tip")
    visit.part("co cell", truth(), opened_case=True)
    visit.wait(6 * 60.0)
    last = visit.test_gas(CO, "tip")
    visit.plug_test("tip")
    said = judge(visit)
    assert said.as_left.outcome == "ready-to-sign"
    points = [point for point in said.points if point.phase == "as-left" and point.channel == "co"]
    assert [(point.step, point.repeats) for point in points] == [(last, 1)]


def test_work_on_the_draft_sensor_leaves_the_gas_as_left_standing(adjusted, judge):
    visit = adjusted()
    visit.happening("part", done="repaired", what="draft sensor", opened_case=False)
    said = judge(visit).as_left
    assert [(action.do, action.channel) for action in said.actions] == [("repeat", "draft")]
