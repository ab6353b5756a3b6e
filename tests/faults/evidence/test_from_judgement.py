"""Judged visits of simulated analyzers as answers: the planted cause comes first, numbers keep their uncertainty."""

import datetime as dt
import functools
import json

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.record.reader import read_record
from flueproof.faults.evidence.from_judgement import answers_from
from flueproof.faults.evidence.situation_of import situation_of
from flueproof.faults.inference.engine import shipped_engine
from flueproof.faults.inference.evidence import Number
from flueproof.faults.knowledge.knowledge import Situation
from flueproof.faults.knowledge.reader import shipped_knowledge
from flueproof.simulate.population import draw_visits

PROFILE = "two-cell-residential"
OUTER = {"probe-joint-leak", "cracked-handle", "split-hose", "trap-seal"}
EXPECTED = {
    "co-low": {"co-cell-tired"},
    "leak-probe": OUTER,
    "leak-instrument": {"inner-leak"},
    "o2-zero": {"o2-cell-ageing", "inner-leak"},
    "room-co": {"room-co", "zeroed-in-co"},
    "draft-off": {"draft-sensor"},
}


@functools.cache
def judged(fault):
    visit = next(draw_visits(1, 11, faults={fault: 1.0}))
    return judge_record(read_record(json.dumps(visit.record).encode()), shipped_profile(PROFILE))


def posterior_of(fault):
    situation = situation_of(shipped_profile(PROFILE), None, dt.date(2026, 11, 2), routine=True)
    return shipped_engine().posterior(answers_from(judged(fault), shipped_knowledge()), situation)


@pytest.mark.parametrize("fault", sorted(EXPECTED))
def test_the_planted_fault_comes_first(fault):
    assert posterior_of(fault).ranking()[0].cause in EXPECTED[fault]


def test_a_healthy_analyzer_at_its_yearly_check_has_nothing():
    assert posterior_of("healthy").best()[0][0] == ()


def test_measurements_enter_as_numbers_with_their_uncertainty():
    answers = answers_from(judged("leak-probe"), shipped_knowledge())
    dilution = answers["probe-dilution"]
    assert isinstance(dilution, Number)
    assert dilution.value == judged("leak-probe").gas_path["dilution"]["probe"]["value"]
    assert dilution.u == judged("leak-probe").gas_path["dilution"]["probe"]["u"] > 0
    assert answers["plug-test-tip"] == "leaks"


def test_a_phase_that_was_not_done_says_nothing():
    assert answers_from(judged("healthy"), shipped_knowledge(), "as-left") == {}


class TestSituation:
    def test_channels_ages_and_month_are_taken(self):
        made = {"o2": dt.date(2023, 11, 2), "co": dt.date(2027, 1, 1)}
        said = situation_of(shipped_profile(PROFILE), made, dt.date(2026, 11, 2))
        assert said.has is not None
        assert {"o2", "co", "stack", "air", "draft"} <= said.has
        assert said.ages == {"o2": pytest.approx(3.0, abs=0.01), "co": 0.0}
        assert (said.month, said.routine) == (11, False)

    def test_an_unknown_model_leaves_everything_possible(self):
        assert situation_of(None, None, dt.date(2026, 7, 1)) == Situation(None, {}, 7)
