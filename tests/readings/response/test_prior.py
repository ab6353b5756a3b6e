"""Knowledge of a model's response."""

import dataclasses
import json

import pytest

from flueproof.readings.errors import PriorError
from flueproof.readings.response.prior import GENERIC, ResponsePrior


def test_it_is_the_same_after_json():
    assert ResponsePrior.from_dict(json.loads(json.dumps(GENERIC.to_dict()))) == GENERIC


def test_the_generic_prior_reaches_the_usual_cells():
    assert GENERIC.fast_s == pytest.approx(14.0)
    assert 45 < GENERIC.slow_s < 110


@pytest.mark.parametrize(
    "change",
    [
        {"mean": (1.0, 2.0, 3.0)},
        {"mean": (float("nan"), 0.1, 4.0, 6.0)},
        {"covariance": ((1.0, 0.0), (0.0, 1.0))},
        {"covariance": tuple(tuple([0.0] * 4) for _ in range(4))},
        {"correlation_weights": (1.0,)},
        {"correlation_weights": (0.0,) * 5},
        {"noise_steps": 0.0},
        {"noise_spread": -1.0},
    ],
)
def test_what_cannot_be_a_prior_is_refused(change):
    with pytest.raises(PriorError):
        dataclasses.replace(GENERIC, **change)


@pytest.mark.parametrize("change", [{"format": "other/1"}, {"shape": ["a"]}, {"mean": None}, {"noise_steps": "x"}])
def test_what_was_not_written_by_it_is_refused(change):
    with pytest.raises(PriorError, match="learn"):
        ResponsePrior.from_dict({**GENERIC.to_dict(), **change})
