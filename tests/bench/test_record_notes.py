"""Notes on a record as a whole, and what those that block do to the verdict."""

import pytest


def codes(said):
    return {note.code: note.blocks for note in said.notes}


def test_a_clean_visit_has_none(visit, judge):
    assert (
        codes(judge(visit()))
        .keys()
        .isdisjoint(
            {
                "work-not-ordered",
                "as-found-not-measured",
                "uncertainty-beyond-limit",
                "readings-disagree",
                "no-room-log",
            }
        )
    )


def test_work_in_a_verification_is_no_certificate(visit, judge):
    bench = visit(order={"service": "verify"})
    bench.happening("upkeep", done="new-filter", what="trap filter")
    bench.as_left()
    bench.test_gas("cyl-co-500", "tip")
    bench.plug_test("tip")
    said = judge(bench)
    assert codes(said)["work-not-ordered"] is True
    last = said.as_left or said.as_found
    assert (last.outcome, last.signable) == ("incomplete", False)
    assert last.actions[0].do == "ask-owner"


def test_a_setting_changed_after_the_last_gas_holds_the_verdict_back(visit, judge):
    bench = visit()
    bench.happening("settings", changed={"altitude": "1500 m"})
    said = judge(bench)
    assert (said.as_found.outcome, said.as_found.signable) == ("incomplete", False)
    assert [action.do for action in said.as_found.actions] == ["repeat"]


def test_an_uncertainty_beyond_the_limit_is_said(visit, judge):
    bench = visit(order={"limits": {"co": {"unit": "ppm", "absolute": 1.0}}})
    assert codes(judge(bench))["uncertainty-beyond-limit"] is False


def test_as_found_that_was_ordered_and_not_measured_is_said(visit, judge):
    bench = visit()
    tree = bench.record()
    for step in tree["steps"]:
        if step.get("phase") == "as-found":
            step["phase"] = "as-left"
    assert "as-found-not-measured" in codes(judge(tree))
    tree["order"]["as_found"] = False
    assert "as-found-not-measured" not in codes(judge(tree))


@pytest.mark.parametrize(
    ("enclosed", "limited"), [(["probe", "hose"], False), (["no probe", "hose"], True), (["charger"], True)]
)
def test_a_box_that_says_no_probe_has_none(visit, judge, enclosed, limited):
    said = judge(visit(received={"enclosed": enclosed}, instrument=True))
    assert (said.not_tested[:1] == ("Probe assembly and its gas path",)) is limited
