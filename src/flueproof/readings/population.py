"""Learning the response of a model from earlier traces."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Sequence

import numpy as np

from flueproof.readings.errors import PriorError
from flueproof.readings.response.posterior import Posterior, Samples, posterior_of
from flueproof.readings.response.prior import CORRELATION_S, GENERIC, ResponsePrior
from flueproof.readings.settling import samples_of
from flueproof.readings.shown import Looks

__all__ = ["GENERIC", "ResponsePrior", "Trace", "learn_population"]

Trace = tuple[Looks, float]

FEWEST = 8
ROUNDS = 25
# What the generic prior counts for, in traces (own choice): short traces hardly tell the slow time constant, and then
# it decides; long ones overrule it.
PSEUDO_TRACES = 10.0
ALIKE = 0.5  # units of one model are more alike than those of all models: their variance in it (own choice)
# The next unit may differ more than those seen: variance of tail share and ln(tau2) times this (own choice, made on
# simulated populations so that also the slowest tenth is covered).
NEXT_UNIT = 1.2


def learn_population(traces: Iterable[Trace], *, rounds: int = ROUNDS) -> ResponsePrior:
    """Return the response prior of a model and channel from its earlier traces.

    traces: pairs of looks with times and the moment of gas on [s]; never the traces that will be judged; rounds: of
    the expectation-maximisation at most [-]. Traces without a step are left out. Longer traces teach more.
    Raises: PriorError for fewer than 8 traces with a step.
    Source: expectation-maximisation for a normal population seen through uncertain fits (empirical Bayes)
    with a normal-inverse-Wishart prior around the generic one, textbook.
    """
    ready = [samples for looks, gas_on_s in traces if (samples := samples_of(looks, gas_on_s)) is not None]
    if len(ready) < FEWEST:
        raise PriorError(f"{len(ready)} traces show a step; {FEWEST} are needed to learn the response of a model")
    prior = GENERIC
    for _ in range(rounds):
        learned = _one_round(ready, prior)
        moved = np.abs(np.asarray(learned.mean) - np.asarray(prior.mean)) / np.sqrt(np.diag(learned.covariance))
        prior = learned
        if float(moved.max()) < 0.004:
            break
    wider = np.outer(*2 * [np.sqrt([1.0, NEXT_UNIT, NEXT_UNIT, 1.0])])
    covariance = np.asarray(prior.covariance) * wider
    return dataclasses.replace(prior, covariance=tuple(tuple(row) for row in covariance.tolist()))


def _one_round(ready: Sequence[Samples], prior: ResponsePrior) -> ResponsePrior:
    fits = [posterior_of(samples, prior) for samples in ready]
    count = len(fits)
    before = np.asarray(GENERIC.mean)
    means = sum((fit.shape_mean for fit in fits), np.zeros(4))
    mean = (means + PSEUDO_TRACES * before) / (count + PSEUDO_TRACES)
    moment = sum((fit.shape_moment for fit in fits), np.zeros((4, 4)))
    scatter = moment - np.outer(mean, means) - np.outer(means, mean) + count * np.outer(mean, mean)
    off = mean - before
    pseudo = PSEUDO_TRACES * (ALIKE * np.asarray(GENERIC.covariance) + np.outer(off, off))
    spread = (scatter + pseudo) / (count + PSEUDO_TRACES)
    noise_steps, noise_spread, weights = _noise(ready, fits)
    return ResponsePrior(
        (float(mean[0]), float(mean[1]), float(mean[2]), float(mean[3])),
        tuple(tuple(row) for row in (0.5 * (spread + spread.T)).tolist()),
        noise_steps,
        noise_spread,
        weights,
        count,
    )


def _noise(ready: Sequence[Samples], fits: Sequence[Posterior]) -> tuple[float, float, tuple[float, ...]]:
    told = [(samples, fit) for samples, fit in zip(ready, fits, strict=True) if math.isfinite(samples.noise)]
    if not told:
        return GENERIC.noise_steps, GENERIC.noise_spread, GENERIC.correlation_weights
    logs = np.array([math.log(fit.noise_sd / samples.scale) for samples, fit in told])
    shares = np.array([[fit.correlation.get(time, 0.0) for time in CORRELATION_S] for _, fit in told])
    weights = (shares.sum(axis=0) + 1.0) / (len(told) + len(CORRELATION_S))
    return float(np.exp(logs.mean())), float(max(logs.std(), 0.25)), tuple(weights.tolist())
