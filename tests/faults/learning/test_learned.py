"""Learning: planted probabilities come back, refusals and withdrawals hold, guesses teach nothing."""

import dataclasses

import numpy as np
import pytest

from flueproof.faults.errors import LearningError
from flueproof.faults.inference.evidence import Number
from flueproof.faults.knowledge.checker import check_knowledge
from flueproof.faults.learning.learned import Strength, learned
from flueproof.faults.learning.ledger import ClosedJob, Ledger, ledger_from


def job(number, causes=("seal",), answers=None, **changes):
    given = ClosedJob(f"J{number}", causes, answers or {}, "Ann (invented)", True, "2026-11-02")
    return dataclasses.replace(given, **changes)


def ledger_of(jobs):
    return Ledger(tuple(jobs))


class TestPlanted:
    def test_weights_answers_and_numbers_come_back(self, knowledge):
        chance = np.random.default_rng(20266)
        names = ["seal", "tired", "room", "pump"]
        weights = [0.5, 0.2, 0.05, 0.25]
        runs_on = {
            "seal": (0.2, 0.3, 0.5),
            "tired": (0.9, 0.05, 0.05),
            "room": (0.6, 0.3, 0.1),
            "pump": (0.1, 0.1, 0.8),
        }
        jobs = []
        for number in range(6000):
            cause = str(chance.choice(names, p=weights))
            answers = {
                "stalls": str(chance.choice(["stalls", "slows", "runs-on"], p=runs_on[cause])),
                "o2-high": "yes" if chance.random() < 0.35 else "no",
                "gain": Number(float(chance.normal(0.7 if cause == "tired" else 1.0, 0.05)), 0.01),
            }
            jobs.append(job(number, (cause,), answers))
        found = learned(knowledge, ledger_of(jobs)).knowledge
        whole = found.priors.none + sum(cause.weight for cause in found.causes.values())
        for name, weight in zip(names, weights, strict=True):
            assert found.causes[name].weight / whole == pytest.approx(weight, abs=0.03)
            assert found.observations["stalls"].likelihood.under[name] == pytest.approx(runs_on[name], abs=0.05)
            assert found.observations["o2-high"].likelihood.under[name][0] == pytest.approx(0.35, abs=0.06)
        gain = found.observations["gain"].likelihood.under["tired"]
        assert (gain.middle, gain.deviation) == pytest.approx((0.7, 0.05), abs=0.02)
        assert check_knowledge(found) == [] or {one.kind for one in check_knowledge(found)} <= {"says-nothing"}

    def test_two_causes_together_teach_how_often_pairs_come(self, knowledge):
        jobs = [job(n, ("seal", "tired") if n % 4 == 0 else ("seal",)) for n in range(2000)]
        assert learned(knowledge, ledger_of(jobs)).knowledge.priors.pair_share == pytest.approx(1 / 3, abs=0.05)

    def test_two_causes_together_do_not_teach_what_each_shows(self, knowledge):
        found = learned(knowledge, ledger_of([job(1, ("seal", "tired"), {"stalls": "stalls"})]))
        assert found.knowledge.observations["stalls"] == knowledge.observations["stalls"]

    def test_a_complaint_not_made_counts_where_the_complaint_was_taken_down(self, knowledge):
        jobs = [job(n, ("seal",), {"co-low": "yes"}, complained=True) for n in range(200)]
        found = learned(knowledge, ledger_of(jobs)).knowledge
        assert found.observations["o2-high"].likelihood.under["seal"][0] < 0.2
        silent = [dataclasses.replace(one, complained=False) for one in jobs]
        assert (
            learned(knowledge, ledger_of(silent)).knowledge.observations["o2-high"] == knowledge.observations["o2-high"]
        )


class TestStrength:
    def test_one_job_moves_a_probability_by_one_case_among_the_imagined(self, knowledge):
        found = learned(knowledge, ledger_of([job(1, ("seal",), {"bulb": "yes"})]), Strength(answers=20)).knowledge
        assert found.observations["bulb"].likelihood.under["seal"][0] == pytest.approx((20 * 0.1 + 1) / 21)

    def test_stronger_tables_move_less(self, knowledge):
        ledger = ledger_of([job(n, ("pump",)) for n in range(20)])
        weak = learned(knowledge, ledger, Strength(weights=20)).knowledge.causes["pump"].weight
        strong = learned(knowledge, ledger, Strength(weights=2000)).knowledge.causes["pump"].weight
        assert weak > strong > knowledge.causes["pump"].weight

    def test_no_job_changes_nothing(self, knowledge):
        found = learned(knowledge, Ledger())
        assert (found.knowledge, found.changes) == (knowledge, ())


class TestReportAndRefusal:
    ledger = ledger_of([job(1, ("seal",), {"bulb": "yes"}), job(2, (), {"bulb": "no"})])

    def test_every_change_is_told_with_before_after_and_cases(self, knowledge):
        changes = {one.key: one for one in learned(knowledge, self.ledger).changes}
        assert {"weight:seal", "weight:nothing", "answers:bulb:seal", "answers:bulb:nothing", "pairs"} <= set(changes)
        assert changes["answers:bulb:seal"].before == pytest.approx((0.1, 0.9))
        assert changes["answers:bulb:seal"].cases == 1

    @pytest.mark.parametrize(
        "key", ["weight:seal", "weight:nothing", "answers:bulb:seal", "answers:bulb:nothing", "pairs"]
    )
    def test_a_refused_change_is_not_in_force_and_still_told(self, knowledge, key):
        found = learned(knowledge, self.ledger.refusing(key))
        assert next(one for one in found.changes if one.key == key).refused
        free = learned(knowledge, self.ledger.refusing(key).allowing(key))
        assert free.knowledge == learned(knowledge, self.ledger).knowledge != found.knowledge

    def test_a_job_taken_back_leaves_no_trace(self, knowledge):
        kept = learned(knowledge, ledger_of([job(1, ("seal",), {"bulb": "yes"})]))
        both = ledger_of([job(1, ("seal",), {"bulb": "yes"}), job(2, ("pump",), {"stalls": "slows"})])
        assert learned(knowledge, both.without("J2")) == kept

    def test_a_cause_that_no_table_knows_any_more_is_left_aside(self, knowledge):
        assert learned(knowledge, ledger_of([job(1, ("gremlin",))])).knowledge == knowledge


class TestOnlyConfirmed:
    @pytest.mark.parametrize("changes", [{"confirmed_by": " "}, {"fixed": False}])
    def test_a_guess_teaches_nothing(self, changes):
        with pytest.raises(LearningError, match="not confirmed"):
            Ledger().with_job(job(1, **changes))

    @pytest.mark.parametrize("causes", [("seal", "pump", "room"), ("seal", "seal")])
    def test_a_job_with_more_than_two_causes_is_refused(self, causes):
        with pytest.raises(LearningError, match="causes"):
            Ledger().with_job(job(1, causes))

    def test_a_job_counts_once(self):
        with pytest.raises(LearningError, match="take it back first"):
            Ledger().with_job(job(1)).with_job(job(1))

    def test_a_job_that_is_not_there_cannot_be_taken_back(self):
        with pytest.raises(LearningError, match="never"):
            Ledger().without("J9")


class TestKeeping:
    def test_a_ledger_comes_back_from_plain_values(self):
        ledger = Ledger().with_job(job(1, ("seal",), {"bulb": "yes", "gain": Number(0.9, 0.01)}, complained=True))
        assert ledger_from(ledger.refusing("pairs").to_json_dict()) == ledger.refusing("pairs")

    def test_a_kept_guess_is_refused_on_reading(self):
        tree = Ledger((job(1, fixed=False),)).to_json_dict()
        with pytest.raises(LearningError, match="not confirmed"):
            ledger_from(tree)

    @pytest.mark.parametrize("tree", [{}, {"jobs": [{}], "refused": []}, {"jobs": 3, "refused": []}])
    def test_what_cannot_be_read_is_said(self, tree):
        with pytest.raises(LearningError, match="not readable"):
            ledger_from(tree)
