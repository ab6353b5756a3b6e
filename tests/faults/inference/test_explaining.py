"""Which answer moved what: the parts add up, whatever the order."""

import math

import pytest

from flueproof.faults.inference.evidence import Number
from flueproof.faults.inference.explaining import explain
from flueproof.faults.knowledge.knowledge import Situation

ANSWERS = {"o2-high": "yes", "stalls": "runs-on", "bulb": "no", "gain": Number(0.97, 0.02), "zeroed-indoors": "no"}


@pytest.mark.parametrize("rival", [None, "pump", "room"])
@pytest.mark.parametrize("cause", ["seal", "tired"])
def test_prior_and_parts_add_up_to_the_odds(engine, cause, rival):
    said = explain(engine.posterior(ANSWERS), cause, rival)
    assert math.fsum([said.prior, *(part.log_ratio for part in said.parts)]) == pytest.approx(said.total)


def test_the_odds_are_those_of_the_posterior(engine):
    posterior = engine.posterior(ANSWERS)
    said = explain(posterior, "seal", "pump")
    odds = dict(posterior.best(20))
    assert math.exp(said.total) == pytest.approx(odds[("seal",)] / odds[("pump",)])


def test_the_strongest_answer_comes_first_and_the_rival_is_the_next_best_story(engine):
    said = explain(engine.posterior({k: v for k, v in ANSWERS.items() if k != "gain"}), "seal")
    assert said.parts[0].observation in {"stalls", "o2-high", "bulb"}
    assert said.parts[0].ratio > 1
    assert "seal" not in said.rival


def test_the_order_of_answers_does_not_matter(engine):
    turned = dict(reversed(ANSWERS.items()))
    assert explain(engine.posterior(ANSWERS), "seal") == explain(engine.posterior(turned), "seal")


def test_a_cause_that_no_table_knows_is_an_error(engine):
    with pytest.raises(ValueError, match="not in tuple"):
        explain(engine.posterior(ANSWERS), "gremlin")


def test_an_impossible_cause_is_infinitely_unlikely_and_two_are_refused(engine):
    posterior = engine.posterior(ANSWERS, Situation(has=frozenset({"o2"})))
    assert explain(posterior, "tired", "seal").total == -math.inf
    with pytest.raises(ValueError, match="possible for this analyzer"):
        explain(posterior, "tired", "tired")
