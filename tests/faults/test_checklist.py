"""The fixed checklist: whole, in the words of the cases, and walked as written."""

import pytest

from faults.checklist import (
    ENDS,
    PHONE_PLACES,
    POINTS,
    errors_of,
    family_of,
    holds,
    number_of,
    on_the_bench,
    on_the_phone,
    steps,
    triage,
)
from faults.vignette import about, vignettes

CONDITIONS = {"below", "above", "has", "above_fact", "below_fact", "by"}


def test_every_step_says_where_how_long_and_what_is_looked_at():
    names = [step.id for step in steps()]
    assert len(set(names)) == len(names) >= 25
    for step in steps():
        assert step.where in {*PHONE_PLACES, "bench"}, step.id
        assert 0 < step.minutes <= 60, step.id
        assert step.looks, step.id
        assert set(step.family) <= {"gas", "temperature", "draft", "power"}, step.id


def test_every_branch_uses_known_words_and_ends_or_goes_onward():
    known = set(about()["facts"]) | set(about()["bench"]) | set(POINTS)
    order = [step.id for step in steps()]
    for step in steps():
        for branch in step.branches:
            assert set(branch.when) <= known, step.id
            for name, rule in branch.when.items():
                if isinstance(rule, list) and isinstance(words := about()["facts"].get(name), list):
                    assert set(rule) <= set(words), (step.id, name)
                assert isinstance(rule, list) or set(rule) <= CONDITIONS, (step.id, name)
            if branch.then == "go":
                assert order.index(branch.to) > order.index(step.id)
            else:
                assert branch.then in ENDS, step.id
                assert branch.cause in about()["causes"], step.id


def test_the_phone_never_ends_in_a_repair_and_the_bench_never_in_sending_in():
    for step in steps():
        ends = {branch.then for branch in step.branches}
        assert not ends & ({"repair"} if step.where in PHONE_PLACES else {"send-in", "mend"}), step.id


def test_the_first_thing_asked_is_whether_people_breathe_co():
    assert "CO being measured where people are" in triage()["asks"]


def test_a_plain_leak_at_the_trap_costs_the_steps_before_it():
    case = next(case for case in vignettes() if case.id == "after-cleaning-the-trap")
    outcome = on_the_phone(case.facts)
    assert (outcome.decision, outcome.cause) == ("mend", "trap-seal")
    assert outcome.steps == ("triage", "settings", "warm-up", "start-outdoors", "trap-and-filter")
    assert outcome.minutes == 2 + 3 + 2 + 6 + 6


def test_a_pump_that_stalls_spares_the_steps_of_the_hose():
    outcome = on_the_phone({"plug_at_tip": "stalls", "channels": ("co",), "co_flue": 70, "co_flue_other": 100})
    assert "other-hose" not in outcome.steps
    assert outcome.cause == "co-cell-weak"


def test_a_caller_who_can_tell_nothing_sends_the_box_in_after_every_step():
    outcome = on_the_phone({})
    assert (outcome.decision, outcome.cause) == ("send-in", "")
    assert outcome.minutes == 2 + sum(s.minutes for s in steps() if "gas" in s.family and s.where in PHONE_PLACES)


def test_the_bench_finds_a_leak_inside():
    outcome = on_the_bench({}, {"dilution_instrument": (0.06, 0.004), "dilution_tip": (0.061, 0.004)})
    assert (outcome.decision, outcome.cause) == ("repair", "leak-inside")
    assert outcome.minutes == 25 + 10 + 25


def test_the_bench_takes_the_path_apart_once_air_is_found():
    outcome = on_the_bench(
        {"other_hose": "better"}, {"dilution_tip": (0.1, 0.004), "dilution_instrument": (0.0, 0.004)}
    )
    assert outcome.cause == "hose-split"
    assert outcome.steps[-2:] == ("bench-gas-tip-and-direct", "bench-path-apart")


def test_the_bench_judges_temperatures_by_their_largest_error():
    bench = {"stack_points": ((60.0, 52.0), (200.0, 164.0)), "socket_points": ((200.0, 200.3),)}
    assert errors_of(bench) == {"stack_error_k": 36.0, "socket_error_k": pytest.approx(0.3)}
    assert on_the_bench({"channels": ("stack",)}, bench).cause == "thermocouple-bent"


@pytest.mark.parametrize(
    ("facts", "family"),
    [
        ({"start": "dark"}, "power"),
        ({"minutes_on_battery": 10}, "power"),
        ({"channels": ("stack", "efficiency")}, "temperature"),
        ({"channels": ("o2", "stack", "draft")}, "gas"),
        ({"channels": ("draft",)}, "draft"),
        ({}, "gas"),
    ],
)
def test_the_family_follows_from_what_is_wrong(facts, family):
    assert family_of(facts) == family


def test_dashes_and_unknown_facts_fulfil_no_comparison():
    assert not holds({"o2_fresh_air": {"below": 20.4}}, {"o2_fresh_air": "----"})
    assert not holds({"o2_flue": {"above_fact": "o2_flue_other", "by": 0.5}}, {"o2_flue": 6.0})
    assert not holds({"o2_fresh_air": {"below": 20.4}}, {})
    assert number_of((0.98, 0.01)) == 0.98
    assert number_of("----") is None


def test_the_checklist_is_a_fair_rival():
    """A sensible technician gets most of the plain cases right: a rival that loses all of them measures nothing."""
    plain = [case for case in vignettes() if not case.hard and len(case.causes) == 1]
    right = [case.id for case in plain if on_the_phone(case.facts).cause in case.causes]
    assert len(right) >= 0.8 * len(plain), sorted({case.id for case in plain} - set(right))


def test_the_checklist_advises_no_harm_where_the_case_is_plain():
    for case in vignettes():
        outcome = on_the_phone(case.facts)
        if not case.hard and outcome.decision != "send-in":
            assert outcome.decision in case.may, (case.id, outcome)
