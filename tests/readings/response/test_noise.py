"""Covariance of noise and display step."""

import json
from pathlib import Path

import numpy as np
import pytest

from flueproof.readings.response.model import Blocks
from flueproof.readings.response.noise import (
    NoiseGrid,
    correlation_left_by_rounding,
    grid_for,
    noise_covariance,
    rounding_covariance,
)
from flueproof.readings.response.prior import GENERIC

ENTRIES = json.loads((Path(__file__).parents[2] / "published/data/metrology.json").read_text("utf-8"))
SERIES = [(10, 0.5, "n10_rho0.5"), (60, 0.8, "n60_rho0.8"), (100, 0.9, "n100_rho0.9")]
MEANS = next(entry for entry in ENTRIES if entry["id"] == "autocorr-ar1")["expected"]


@pytest.mark.parametrize(("count", "rho", "name"), SERIES)
def test_the_mean_of_a_correlated_series(count, rho, name):
    """Variance of the mean of an AR(1) series: formula of Zhang, Metrologia 43 (2006) S276 (from memory)."""
    models = NoiseGrid(np.array([0.1]), np.array([-1.0 / np.log(rho)]), np.zeros(1))
    all_in_one = Blocks(np.array([0]), np.array([float(count)]))
    covariance = noise_covariance(np.arange(float(count)), all_in_one, models)
    assert np.sqrt(covariance[0, 0, 0]) == pytest.approx(MEANS[name][3], rel=1e-5)


def test_rounding_of_a_noisy_signal_is_white_with_step_squared_over_12():
    """JCGM 100:2008, F.2.2.1."""
    covariance = rounding_covariance(np.full(3, 7.0), np.array([2.0]), 1.0, np.array([1.0, 1.0, 4.0]))[0]
    assert np.diag(covariance) == pytest.approx([1 / 12, 1 / 12, 1 / 48])
    assert covariance[0, 1] == pytest.approx(0.0, abs=1e-12)


def test_rounding_of_a_steady_signal_repeats_itself_and_does_not_average_out():
    covariance = rounding_covariance(np.full(3, 7.0), np.array([1e-3]), 1.0, np.ones(3))[0]
    assert covariance == pytest.approx(np.full((3, 3), 1 / 12), rel=1e-3)


def test_the_sawtooth_autocovariance_agrees_with_plain_draws():
    phase = np.random.default_rng(1).uniform(0, 1, 200_000)
    errors = [np.round(phase + move) - (phase + move) for move in (0.0, 0.2, 0.5)]
    covariance = rounding_covariance(np.array([0.0, 0.2, 0.5]), np.array([1e-6]), 1.0, np.ones(3))[0]
    assert covariance == pytest.approx(np.cov(errors), abs=6e-4)


def test_dither_of_half_a_step_spreads_the_rounding_error():
    assert correlation_left_by_rounding(0.5, 1.0) < 1e-4
    assert correlation_left_by_rounding(0.0, 1.0) == 1.0


def test_few_looks_take_the_noise_from_the_prior():
    models = grid_for(float("nan"), 1.0, GENERIC, few=True)
    assert models.sd[1] == pytest.approx(GENERIC.noise_steps)
    assert len(grid_for(0.5, 1.0, GENERIC, few=False).sd) == 20
