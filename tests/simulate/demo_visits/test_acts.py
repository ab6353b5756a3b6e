from flueproof.simulate.demo_visits import acts
from flueproof.simulate.truth import Truth


def gas_steps(visit):
    return [
        (step["path"]["feed"], step["feed"].get("pinched", False)) for step in visit.steps if step["kind"] == "test-gas"
    ]


def test_what_tells_a_leak_inside_from_a_zero_is_done_when_looked_for(visit_on):
    visit = visit_on(Truth(dilution_instrument=0.05))
    acts.with_instrument_tests(visit)
    assert gas_steps(visit) == [("tip", False), ("instrument", False), ("instrument", True)]
    inlet = [step["kind"] for step in visit.steps if step.get("path") == {"feed": "instrument"}]
    assert {"plug-test", "vacuum-hold"} <= set(inlet)


def test_nothing_that_could_tell_is_done_when_it_is_not(visit_on):
    visit = visit_on(Truth(dilution_instrument=0.05))
    acts.no_tightness_test(visit)
    assert not {"plug-test", "bulb-test", "vacuum-hold"} & {step["kind"] for step in visit.steps}
    assert not any(pinched for _, pinched in gas_steps(visit))


def test_without_a_probe_all_gas_goes_in_at_the_instrument(visit_on):
    visit = visit_on()
    acts.without_probe(visit)
    assert {feed for feed, _ in gas_steps(visit)} == {"instrument"}
    assert [step["of"] for step in visit.steps if step.get("channel") == "stack"] == ["socket"]


def test_a_struck_step_is_done_again_with_enough_gas(visit_on, shown):
    visit = visit_on()
    acts.struck_and_repeated(visit)
    struck = next(step["strikes"] for step in visit.steps if step["kind"] == "strike")
    wrong = next(index for index, step in enumerate(visit.steps) if step["id"] == struck)
    assert shown(visit, "o2", wrong)[-1] > 3.0
    assert shown(visit, "o2", wrong + 2)[-1] <= 0.2


def test_a_new_cell_settles_as_long_as_the_profile_asks(visit_on):
    import datetime as dt

    visit = visit_on(Truth(dead=frozenset({"co"})))
    acts.new_co_cell(visit)
    part = next(step for step in visit.steps if step["kind"] == "part")
    adjust = next(step for step in visit.steps if step["kind"] == "adjust")
    waited = dt.datetime.fromisoformat(adjust["at"]) - dt.datetime.fromisoformat(part["at"])
    assert waited >= dt.timedelta(hours=visit.profile.cells["co"].settle_hours)
    assert adjust["accepted"] is True
