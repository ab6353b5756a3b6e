"""The judge of one record: phases, struck steps, owner's limits, what counts, recomputing."""

import json

import pytest

from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle
from flueproof.bench.errors import RecordError
from flueproof.metrology.conformity import decision_rule
from flueproof.readings.population import GENERIC
from flueproof.simulate.demo import demo_records
from flueproof.simulate.physics.sensing import Room

CO = "cyl-co-500"


def flat(value, place="$"):
    """Yield every number of a judgement with its place."""
    if isinstance(value, dict):
        for key, item in value.items():
            yield from flat(item, f"{place}.{key}")
    elif isinstance(value, list):
        for index, item in enumerate(value):
            yield from flat(item, f"{place}[{index}]")
    elif isinstance(value, float):
        yield place, value


class TestRecomputing:
    """Judgement = f(record, profile, rules version, bundle): the same in, the same out."""

    def test_the_same_inputs_give_the_same_numbers_to_12_digits(self, visit, judge):
        tree = visit(instrument=True).record()
        first, second = judge(tree).to_json_dict(), judge(json.loads(json.dumps(tree))).to_json_dict()
        one, other = dict(flat(first)), dict(flat(second))
        assert one.keys() == other.keys()
        assert all(other[place] == pytest.approx(number, rel=1e-12, abs=1e-300) for place, number in one.items())
        assert first == second

    def test_the_bundle_is_kept_with_its_hash(self, visit, judge):
        bundle = Bundle({"co": GENERIC.to_dict()}, {"co": (1.0, 30.0)}, None)
        said = judge(visit(), bundle=bundle)
        assert said.bundle["sha256"] == bundle.sha256() != EMPTY_BUNDLE.sha256()
        assert said.bundle["repeatability"] == {"co": [1.0, 30.0]}
        line = next(line for point in said.points if point.channel == "co" for line in point.budget[-1:])
        assert (line.name, line.u, line.dof) == ("repeatability", 1.0, 30.0)

    def test_profile_and_rules_are_named(self, visit, judge):
        said = judge(visit())
        assert said.profile["name"] == "two-cell-residential"
        assert len(said.profile["sha256"]) == 64
        assert said.rules_version == "1"
        assert said.decision_rule["name"] == "risk-2"

    def test_an_asked_rule_stands_before_the_orders(self, visit, judge):
        assert judge(visit(), rule=decision_rule("guarded-U")).decision_rule["name"] == "guarded-U"


class TestWhatCounts:
    def test_the_owners_own_path_counts_and_the_inlet_does_not(self, visit, judge):
        counting = {
            (point.feed, point.counts) for point in judge(visit(instrument=True)).points if point.channel == "co"
        }
        assert counting == {("tip", True), ("instrument", False)}

    def test_without_a_probe_the_inlet_counts(self, start, judge):
        visit = start(received={"enclosed": ["charger"]})
        visit.test_gas(CO, "instrument")
        assert all(point.counts for point in judge(visit).points)

    def test_the_shops_probe_never_counts(self, start, judge):
        visit = start()
        visit.test_gas(CO, "tip", probe="shop")
        assert not any(point.counts for point in judge(visit).points)

    def test_a_simulated_temperature_at_the_socket_does_not_count(self, start, judge):
        visit = start()
        visit.temperature("therm-1", 200.0, "stack", "socket")
        assert [point.counts for point in judge(visit).points] == [False]

    def test_points_stand_in_the_order_of_the_steps(self, visit, judge):
        order = [int(point.step[1:]) for point in judge(visit(instrument=True)).points]
        assert order == sorted(order)


def test_a_struck_step_leaves_no_trace(start, judge):
    """The same visit with and without a wrong step that was struck gives the same points."""
    good, with_strike = start(seed=3), start(seed=3)
    good.wait(30)
    wrong = with_strike.test_gas(CO, "tip", supply_l_min=0.3)
    with_strike.happening("strike", strikes=wrong, why="vent did not flow")
    with_strike.generator = good.generator.__class__(type(good.generator.bit_generator)(9))
    good.generator = good.generator.__class__(type(good.generator.bit_generator)(9))
    for one in (good, with_strike):
        one.test_gas(CO, "tip")
    clean, struck = judge(good), judge(with_strike)
    assert [(point.channel, point.error, point.U) for point in struck.points] == [
        (point.channel, point.error, point.U) for point in clean.points
    ]
    assert not any(note.step == wrong for note in struck.notes)


class TestOwnersLimits:
    def test_they_replace_the_profiles(self, visit, judge):
        said = judge(visit(order={"limits": {"co": {"percent": 5.0, "of": "reference"}}}))
        co = next(point for point in said.points if point.channel == "co")
        assert co.limit == pytest.approx(25.1)
        assert co.limit_source == "the owner's order"
        assert next(point for point in said.points if point.channel == "draft").limit_source != "the owner's order"

    def test_a_limit_in_another_unit_is_a_difference(self, visit, judge):
        said = judge(visit(order={"limits": {"stack": {"absolute": 9.0, "unit": "degF"}}}))
        assert next(point for point in said.points if point.channel == "stack").limit == pytest.approx(5.0)

    def test_the_larger_of_both_is_taken(self, visit, judge):
        both = {"absolute": 40.0, "unit": "ppm", "percent": 5.0, "of": "reference", "combine": "larger"}
        said = judge(visit(order={"limits": {"co": both}}))
        assert next(point for point in said.points if point.channel == "co").limit == pytest.approx(40.0)

    def test_a_channel_that_the_profile_lacks_is_refused_by_its_path(self, visit, judge):
        with pytest.raises(RecordError) as refused:
            judge(visit(order={"limits": {"so2": {"percent": 5.0, "of": "reference"}}}))
        assert refused.value.path == "$.order.limits.so2"


class TestPhases:
    def test_as_left_is_judged_by_its_own_limit(self, start, judge):
        """OIML R 144-1:2013, 4.3.1 and 4.3.2: 10 % as found, 5 % as left."""
        visit = start()
        visit.test_gas(CO, "tip")
        visit.part("probe hose", visit.truth)
        visit.as_left()
        visit.test_gas(CO, "tip")
        limits = [point.limit for point in judge(visit).points if point.channel == "co"]
        assert limits == pytest.approx([50.2, 25.1])

    def test_without_measuring_there_is_no_verdict(self, start, judge):
        said = judge(start())
        assert (said.as_found, said.as_left, said.points) == (None, None, ())

    def test_what_the_work_did_not_touch_stands_as_found(self, visit, judge):
        """Stack and draft were fine as found; a new hose asks for gas and path only."""
        from flueproof.simulate.procedure import do_points

        one = visit()
        one.happening("upkeep", done="new-filter", what="water trap filter")
        one.as_left()
        do_points(one, gas_only=True)
        said = judge(one)
        assert said.as_left.outcome == "ready-to-sign"
        assert {point.channel for point in said.points if point.phase == "as-left"} == {"o2", "co"}

    def test_what_the_work_touched_must_be_measured_anew(self, visit, judge):
        one = visit()
        one.happening("upkeep", done="new-filter", what="water trap filter")
        one.as_left()
        one.plug_test("tip")
        assert judge(one).as_left.outcome == "incomplete"

    def test_both_paths_are_printed(self, start, judge, truth):
        visit = start(truth(dilution_probe=0.06))
        visit.test_gas(CO, "tip")
        visit.part("probe hose", truth())
        visit.as_left()
        visit.test_gas(CO, "tip")
        path = judge(visit).gas_path
        assert path["p_o2"]["tip"]["value"] == pytest.approx(0.94, abs=0.01)
        assert path["as_left"]["p_o2"]["tip"]["value"] == pytest.approx(1.0, abs=0.01)


def test_room_co_at_switch_on_is_a_zero_and_not_a_gain(start, judge, truth):
    """A shortfall that is constant in ppm is a zero taken in CO (issue 2, the gas path)."""
    visit = start(truth(), room=Room(co_ppm=24.0))
    visit.test_gas(CO, "tip")
    visit.test_gas("can-co-100", "tip")
    cell = judge(visit).cells["co"]
    assert cell["zero"] == pytest.approx(-24.0, abs=3.0)
    assert cell["gain"] == pytest.approx(0.99, abs=0.02)


def test_repeats_that_disagree_are_said(start, judge):
    visit = start()
    visit.test_gas(CO, "tip")
    visit.truth = visit.truth.__class__(gain={"co": 0.85}, responses=visit.truth.responses)
    visit.test_gas(CO, "tip")
    assert "readings-disagree" in {note.code for note in judge(visit).notes}


def test_a_room_without_a_log_is_said(visit, judge):
    tree = visit().record()
    tree["steps"] = tree["steps"][1:]
    assert "no-room-log" in {note.code for note in judge(tree).notes}


def test_what_was_not_tested_is_named(visit, judge):
    said = judge(visit(also=()))
    assert said.not_tested == ("Air sensor beside a thermometer", "CO channel on NO gas (chemical filter)")


def test_the_joint_statement_counts_what_counts(visit, judge):
    said = judge(visit(instrument=True))
    assert said.joint["as-found"]["points"] == sum(point.counts for point in said.points)
    assert said.joint["as-found"]["p_all_conform"] > 0.99


@pytest.mark.parametrize("demo", demo_records(), ids=lambda demo: demo.name)
def test_every_demo_record_gets_what_its_truth_calls_for(judge, demo):
    said = judge(demo.record)
    assert said.as_found.outcome == demo.expected_outcome
    assert said.gas_path["leak"] == demo.expected_leak
    assert (said.as_left.outcome if said.as_left else None) == demo.expected_as_left
    done = iter(said.as_found.actions)
    for wanted in demo.expected_actions:  # in this order, others may stand between
        assert any(
            action.do == wanted.do and wanted.where in {None, action.where} and wanted.channel in {None, action.channel}
            for action in done
        ), f"{wanted} not among {said.as_found.actions}"
