"""What follows for a point that is too close to call, and for points that are missing."""

import dataclasses

import pytest

from flueproof.bench.judge.judge import examine_record
from flueproof.bench.judgement import BudgetLine
from flueproof.bench.verdict.open_actions import REFERENCE_CODES, missing_actions, undecided_actions

CO = "cyl-co-500"


@pytest.fixture(name="now")
def _now(visit, read):
    """A clean visit whose CO point is made undecided in a chosen way."""

    def situation(**point):
        clean = examine_record(*read(visit())).found
        points = tuple(
            dataclasses.replace(one, **{"statement": "undecided"} | point) if one.channel == "co" else one
            for one in clean.points
        )
        return dataclasses.replace(clean, points=points)

    return situation


def acts(actions):
    return [(action.do, action.channel) for action in actions]


class TestTooClose:
    """JCGM 100:2008, 5.2.2: a repeat on one bottle does not shrink the bottle's share."""

    def test_a_repeat_where_most_differs_between_applications(self, now):
        assert acts(undecided_actions(now(u=4.0, reference_u=2.0, repeats=1))) == [("repeat", "co")]

    def test_a_better_reference_where_most_is_the_references(self, now):
        assert acts(undecided_actions(now(u=4.0, reference_u=3.5, repeats=1))) == [("better-reference", "co")]

    def test_the_owners_rule_where_repeats_did_not_decide(self, now):
        assert acts(undecided_actions(now(u=4.0, reference_u=2.0, repeats=2))) == [("discuss", "co")]

    def test_a_longer_hold_where_the_reading_had_not_settled(self, now):
        [action] = undecided_actions(now(u=0.6, reference_u=0.1, budget=(BudgetLine("settling", 0.55),)))
        assert (action.do, "hold the gas" in action.why) == ("repeat", True)

    def test_one_action_a_channel(self, now):
        crowded = now(u=4.0, reference_u=2.0)
        crowded = dataclasses.replace(crowded, points=crowded.points * 2)
        assert acts(undecided_actions(crowded)) == [("repeat", "co")]

    def test_one_application_outside_by_itself_asks_for_the_cause(self, now):
        """No single reading outside the limit: OIML R 144-2, 1.2 (the mean of the two may well be inside)."""
        [action] = undecided_actions(now(statement="conform", repeats=2, outside_alone=("s9",)))
        assert (action.do, action.channel) == ("repeat", "co")
        assert "s9 alone" in action.why

    @pytest.mark.parametrize(("p_conform", "acts_now"), [(0.2, [("better-reference", "co")]), (0.51, [])])
    def test_simple_acceptance_signs_nothing_that_is_likelier_outside(self, now, p_conform, acts_now):
        """A bottle with U of 400 ppm against a limit of 50 ppm: no error shown, and a fifth of a chance."""
        guess = now(statement="conform", u=200.0, reference_u=200.0, p_conform=p_conform)
        assert acts(undecided_actions(guess)) == acts_now

    def test_a_point_that_does_not_count_asks_for_nothing(self, now):
        assert undecided_actions(now(counts=False)) == []

    def test_a_decided_point_asks_for_nothing(self, now):
        assert undecided_actions(now(statement="conform")) == []


class TestMissing:
    def test_references_come_first_then_repeats_then_what_was_not_done(self, start, read):
        visit = start(references=("cyl-co-old", "mano-1"))
        visit.test_gas("cyl-co-old", "tip", vent_open=False)
        found = missing_actions(examine_record(*read(visit)).found)
        assert [action.do for action in found] == ["better-reference", "repeat", "repeat", "repeat", "check-path"]
        assert [action.detail.get("point") for action in found[2:]] == ["stack-hot", "draft-one", "path-tight"]

    def test_one_note_is_said_once(self, start, read):
        visit = start(references=("cyl-co-old",))
        for _ in range(2):
            visit.test_gas("cyl-co-old", "tip")
        first = missing_actions(examine_record(*read(visit)).found)[0]
        assert first.do == "better-reference"
        assert first.why.count("expired on") == 1

    def test_nothing_is_missing_from_a_whole_visit(self, visit, read):
        assert missing_actions(examine_record(*read(visit())).found) == []

    def test_optional_points_are_never_asked_for(self, visit, read):
        assert missing_actions(examine_record(*read(visit(also=()))).found) == []


def test_every_code_of_a_reference_asks_for_a_better_one():
    assert {"expired-gas", "reference-overdue", "low-cylinder-pressure", "wrong-balance-gas"} < REFERENCE_CODES
