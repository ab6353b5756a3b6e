"""Answers that contradict each other are said to."""

from flueproof.faults.inference.evidence import Number
from flueproof.faults.inference.surprise import surprise


def test_answers_of_one_story_do_not_surprise(engine):
    said = surprise(engine.posterior({"o2-high": "yes", "stalls": "runs-on", "bulb": "no"}))
    assert not said.contradictory
    assert said.bits < 0


def test_a_pump_that_stalls_with_a_bulb_that_fills_is_a_contradiction(engine):
    said = surprise(engine.posterior({"o2-high": "yes", "stalls": "stalls", "bulb": "no"}))
    assert said.bits > surprise(engine.posterior({"o2-high": "yes", "stalls": "runs-on", "bulb": "no"})).bits
    assert said.misfits[0].observation == "stalls"


def test_a_strong_contradiction_is_named(engine):
    said = surprise(
        engine.posterior({"co-low": "yes", "zeroed-indoors": "no", "gain": Number(1.0, 0.01), "o2-high": "no"})
    )
    assert said.contradictory
    assert said.misfits[0].observation in {"co-low", "gain"}


def test_one_answer_or_none_contradicts_nothing(engine):
    for answers in ({}, {"co-low": "yes"}, {"co-low": "yes", "bulb": None}):
        said = surprise(engine.posterior(answers))
        assert (said.bits, said.contradictory) == (0.0, False)
