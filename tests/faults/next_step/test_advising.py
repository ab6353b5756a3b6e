"""The next question: worth its minutes, safe, and silent once nothing can change."""

import dataclasses

import pytest

from flueproof.faults.errors import NoClearanceError
from flueproof.faults.inference.engine import Engine
from flueproof.faults.inference.evidence import Number
from flueproof.faults.knowledge.knowledge import Situation
from flueproof.faults.knowledge.reader import shipped_knowledge
from flueproof.faults.next_step.advising import Advisor
from flueproof.faults.next_step.costs import shipped_costs
from flueproof.faults.next_step.options import options_at


@pytest.fixture(scope="module")
def advisor(engine):
    return Advisor(engine, shipped_costs())


@pytest.fixture(scope="module")
def shipped():
    return Advisor(Engine(shipped_knowledge()), shipped_costs())


def expected_cost(advisor, answers, place="phone"):
    """Cost of the best decision by plain loops over the loss table."""
    posterior = advisor.engine.posterior(answers)
    table = advisor._losses[place].losses
    return min(sum(loss * p for loss, p in zip(row, posterior.probability, strict=True)) for row in table)


class TestTheNextQuestion:
    def test_its_saving_is_that_of_plain_loops(self, advisor, knowledge):
        answers = {"co-low": "yes"}
        step = advisor.advise(answers).step
        one = knowledge.observations[step.observation]
        before = advisor.engine.posterior(answers)
        after = 0.0
        for answer in one.likelihood.answers:
            then = advisor.engine.posterior({**answers, one.key: answer})
            share = 2.718281828459045 ** (then.log_evidence - before.log_evidence)
            after += share * expected_cost(advisor, {**answers, one.key: answer})
        saving = one.known_by * (expected_cost(advisor, answers) - after) - one.minutes
        assert step.saving == pytest.approx(saving, rel=0.02)

    def test_what_is_answered_not_known_or_already_asked_is_not_asked_again(self, advisor):
        said = {"co-low": "yes"}
        first = advisor.advise(said).step.observation
        assert advisor.advise({**said, first: None}).step != advisor.advise(said).step
        named = {step.observation for step in _steps(advisor.advise(said, asked=[first]))}
        assert first not in named

    def test_it_stops_when_the_decision_will_not_change(self, advisor):
        told = {"o2-high": "yes", "stalls": "runs-on", "bulb": "no", "zeroed-indoors": "no", "co-low": "no"}
        advice = advisor.advise(told)
        assert advice.step is None
        assert advice.decision.cause == "seal"

    def test_the_owner_is_not_asked_for_bench_work(self, shipped):
        for answers in ({}, {"says-co-low": "yes"}, {"says-o2-high": "yes"}):
            kinds = {shipped.engine.knowledge.observations[s.observation].kind for s in _steps(shipped.advise(answers))}
            assert kinds <= {"question", "field-check"}

    def test_what_the_analyzer_lacks_is_not_asked_for(self, shipped):
        situation = Situation(has=frozenset({"o2", "co", "stack"}))
        for complaint in ("says-draft-zero", "says-co-high"):
            for step in _steps(shipped.advise({complaint: "yes"}, situation)):
                assert shipped.engine.knowledge.observations[step.observation].needs <= situation.has


class TestSafety:
    @pytest.mark.parametrize("place", ["phone", "bench"])
    def test_unsafe_and_destructive_steps_are_never_proposed(self, advisor, shipped, place):
        for one in (advisor, shipped):
            known = one.engine.knowledge.observations
            complaints = [key for key, each in known.items() if each.kind == "complaint"]
            for complaint in complaints:
                for step in _steps(one.advise({complaint: "yes"}, place=place)):
                    assert known[step.observation].safety in {"safe", "care"}

    def test_it_could_have_been_tempted(self, knowledge):
        assert knowledge.observations["taste"].safety == "destructive"
        assert not knowledge.observations["taste"].may_be_proposed

    def test_every_decision_says_that_no_appliance_is_cleared(self, shipped):
        for complaint in [key for key, one in shipped.engine.knowledge.observations.items() if one.kind == "complaint"]:
            assert "no" in shipped.advise({complaint: "yes"}).decision.cautions[0]
            assert "appliance" in shipped.advise({complaint: "yes"}).decision.cautions[0]

    @pytest.mark.parametrize("about", ["appliance", "boiler", ""])
    def test_a_decision_about_an_appliance_is_refused(self, advisor, about):
        with pytest.raises(NoClearanceError, match="No statement"):
            advisor.advise({}, about=about)

    def test_a_fault_that_hides_co_comes_with_its_warning(self, advisor):
        decision = advisor.advise({"gain": Number(0.6, 0.02)}).decision
        assert any("no safety decision" in caution for caution in decision.cautions)

    def test_a_step_with_care_says_what_care(self, shipped):
        for one in shipped.engine.knowledge.observations.values():
            assert one.safety == "safe" or one.caution

    def test_no_option_is_called_safe(self, knowledge):
        kinds = {option.kind for place in ("phone", "bench") for option in options_at(knowledge, place)}
        assert kinds == {"mend", "explain", "send-in", "repair", "nothing-found"}


class TestDecisions:
    def test_nothing_is_explained_away_that_may_hide_co(self, engine):
        bold = Advisor(engine, dataclasses.replace(shipped_costs(), believed=0.0))
        careful = Advisor(engine, dataclasses.replace(shipped_costs(), believed=1.0))
        told = {"co-low": "yes", "zeroed-indoors": "yes"}
        assert bold.advise(told).decision.kind == "explain"
        assert careful.advise(told).decision.expected_minutes > bold.advise(told).decision.expected_minutes

    def test_a_seal_is_mended_by_the_owner(self, advisor):
        decision = advisor.advise({"o2-high": "yes", "stalls": "runs-on"}).decision
        assert (decision.kind, decision.cause, decision.borrow) == ("mend", "seal", False)

    def test_a_tired_cell_is_sent_in_with_its_part(self, advisor):
        decision = advisor.advise({"gain": Number(0.6, 0.02)}).decision
        assert (decision.kind, decision.service, decision.parts) == ("send-in", "co-cell", ("CO cell",))
        assert decision.minutes == pytest.approx(30, rel=0.2)

    def test_one_is_lent_only_to_who_cannot_be_without(self, advisor):
        told = {"gain": Number(0.6, 0.02)}
        assert advisor.advise(told, needed=True).decision.borrow
        assert not advisor.advise(told).decision.borrow

    def test_at_the_bench_the_cause_itself_is_decided(self, advisor):
        decision = advisor.advise({"gain": Number(0.6, 0.02)}, place="bench").decision
        assert (decision.kind, decision.cause) == ("repair", "tired")

    def test_an_unknown_place_is_an_error(self, advisor):
        with pytest.raises(ValueError, match="phone, bench"):
            advisor.advise({}, place="moon")


def _steps(advice):
    return [step for step in (advice.step, *advice.others) if step is not None]
