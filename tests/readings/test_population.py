"""Learning the response of a model from other traces."""

import json

import numpy as np
import pytest

from flueproof.readings.errors import PriorError
from flueproof.readings.population import GENERIC, ResponsePrior, learn_population
from flueproof.readings.settling import settle
from flueproof.readings.shown import read_shown


@pytest.fixture(scope="module")
def learned(draw_response):
    generator = np.random.default_rng(21)
    drawn = [draw_response(generator) for _ in range(40)]
    return drawn, learn_population(
        [(one.looks(np.arange(0.0, 301.0), seed), 0.0) for seed, one in enumerate(drawn)], rounds=6
    )


def test_the_population_is_found(learned):
    drawn, prior = learned
    assert prior.traces == 40
    assert prior.mean[0] == pytest.approx(np.mean([np.log(one.fast_s) for one in drawn]), abs=0.06)
    assert prior.mean[1] == pytest.approx(np.mean([one.tail_share for one in drawn]), abs=0.012)
    assert prior.mean[2] == pytest.approx(np.mean([np.log(one.slow_s) for one in drawn]), abs=0.12)
    assert prior.mean[3] == pytest.approx(np.mean([one.dead_s for one in drawn]), abs=0.4)


def test_units_that_are_alike_sharpen_what_the_next_one_says(make_response):
    generator = np.random.default_rng(23)
    alike = [
        make_response(fast_s=generator.normal(12, 0.5), tail_share=generator.normal(0.08, 0.006), slow_s=75.0)
        for _ in range(40)
    ]
    long = np.arange(0.0, 301.0, 2.0)
    prior = learn_population([(one.looks(long, seed), 0.0) for seed, one in enumerate(alike)], rounds=6)
    looks = [make_response().looks(seed=seed) for seed in range(90, 96)]
    sharpened = [settle(one, gas_on_s=0.0, prior=prior).u for one in looks]
    assert np.mean(sharpened) < 0.9 * np.mean([settle(one, gas_on_s=0.0).u for one in looks])


def test_noise_is_learned_in_display_steps(learned):
    drawn, prior = learned
    assert prior.noise_steps == pytest.approx(np.exp(np.mean([np.log(one.noise) for one in drawn])), rel=0.25)


def test_it_survives_json(learned):
    _, prior = learned
    assert ResponsePrior.from_dict(json.loads(json.dumps(prior.to_dict()))) == prior


def test_too_few_traces_are_refused(make_response):
    standing = (read_shown(np.full(60, 3.0), np.arange(60.0), 1.0), 0.0)
    traces = [(make_response().looks(seed=seed), 0.0) for seed in range(5)] + [standing] * 10
    with pytest.raises(PriorError, match="5 traces show a step; 8 are needed"):
        learn_population(traces)


def test_short_typed_traces_leave_the_slow_tail_to_the_generic_prior(draw_response):
    generator = np.random.default_rng(22)
    traces = [(draw_response(generator).looks((0, 20, 40, 60, 80), seed), 0.0) for seed in range(12)]
    prior = learn_population(traces, rounds=4)
    assert prior.mean[2] == pytest.approx(GENERIC.mean[2], abs=0.2)
    assert prior.noise_steps == GENERIC.noise_steps
