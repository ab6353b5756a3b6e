"""Minutes learned from finished jobs."""

import math
import random

import pytest

from flueproof.promise.schedule.learning import PRETENDED, SPREAD, Finished, learn

DEFAULTS = {"gas": 20, "papers": 10}


def jobs(model, minutes, step="gas", service="verify"):
    return [Finished(model, service, step, each) for each in minutes]


def test_without_data_the_default_stands():
    learned = learn([], DEFAULTS).of("Orrin 3", "verify", "gas")
    assert learned.minutes == pytest.approx(20)
    assert learned.jobs == 0
    assert learned.spread > SPREAD


def test_one_job_moves_it_a_little_and_many_take_it_over():
    one = learn(jobs("Orrin 3", [40]), DEFAULTS).of("Orrin 3", "verify", "gas").minutes
    many = learn(jobs("Orrin 3", [40] * 60), DEFAULTS).of("Orrin 3", "verify", "gas").minutes
    assert 20 < one < 32
    assert many == pytest.approx(40, rel=0.02)


def test_one_job_gone_wrong_moves_next_to_nothing():
    usual = [18, 19, 20, 21, 22, 20, 19, 21]
    calm = learn(jobs("Orrin 3", usual), DEFAULTS).of("Orrin 3", "verify", "gas").minutes
    wrong = learn(jobs("Orrin 3", [*usual, 2000]), DEFAULTS).of("Orrin 3", "verify", "gas").minutes
    assert wrong == pytest.approx(calm, rel=0.03)


def test_a_model_with_few_jobs_is_drawn_to_all_models():
    others = jobs("Tarn 7", [30] * 50)
    learned = learn([*others, *jobs("Orrin 3", [15])], DEFAULTS).of("Orrin 3", "verify", "gas")
    everywhere = 30
    share = 1 / (1 + PRETENDED)
    assert learned.minutes == pytest.approx(
        math.exp(share * math.log(15) + (1 - share) * math.log(everywhere)), rel=0.05
    )
    assert learned.jobs == 1


def test_the_spread_is_found_again_from_many():
    rng = random.Random(1)  # noqa: S311
    drawn = [20 * math.exp(0.2 * rng.gauss(0, 1)) for _ in range(400)]
    learned = learn(jobs("Orrin 3", drawn), DEFAULTS).of("Orrin 3", "verify", "gas")
    assert learned.spread == pytest.approx(0.2, abs=0.03)


def test_few_data_make_it_less_sure():
    few = learn(jobs("Orrin 3", [20, 20]), DEFAULTS).of("Orrin 3", "verify", "gas")
    many = learn(jobs("Orrin 3", [20] * 40), DEFAULTS).of("Orrin 3", "verify", "gas")
    assert few.spread > many.spread > 0
    assert few.quantile(1) > few.minutes > few.quantile(-1)


def test_minutes_that_cannot_be_are_left_out():
    learned = learn(jobs("Orrin 3", [0, -5, math.inf, math.nan]), DEFAULTS).of("Orrin 3", "verify", "gas")
    assert learned.jobs == 0


def test_a_step_nobody_knows_is_refused():
    with pytest.raises(KeyError, match="'weld' has no default"):
        learn([], DEFAULTS).of("Orrin 3", "verify", "weld")


def test_a_step_without_default_is_known_once_it_was_done():
    assert learn(jobs("Tarn 7", [33] * 9, step="soak"), DEFAULTS).of(
        "Orrin 3", "verify", "soak"
    ).minutes == pytest.approx(33)
