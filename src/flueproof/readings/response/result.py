"""From the posterior of a trace to its settled value."""

from __future__ import annotations

import math

from flueproof.readings.response.noise import correlation_left_by_rounding
from flueproof.readings.response.posterior import Posterior, Samples
from flueproof.readings.settled import SettledValue

FEW = 12  # looks below which noise cannot be told from shape (own choice)
SETTLED_SHARE = 0.01  # of the step that twice the settling part of u may still be (own choice)
# u is the standard deviation, or what makes the longer arm of the 95 % interval 1.96 u: a slow tail makes it lopsided.
COVERED = 0.95
COVERED_K = 1.959963984540054


def result_of(samples: Samples, posterior: Posterior, level: float, allowed: float | None) -> SettledValue:
    """Return the settled value that a posterior stands for, without its times.

    samples: as fitted; level: of low and high [-]; allowed: what twice the settling part of u may be [unit], None: 1 %
    of the step or one display step.
    Source: own rule; degrees of freedom: JCGM 100:2008, G.4.1.
    """
    settled = posterior.settled
    u_step = max(posterior.u_step, _least_u_step(samples, posterior))
    added = u_step**2 - posterior.u_step**2
    low, high = _interval(posterior, level, added)
    ends = (low, high) if level == COVERED else _interval(posterior, COVERED, added)
    u = max(
        math.sqrt(settled.sd**2 + added), (ends[1] - settled.mean) / COVERED_K, (settled.mean - ends[0]) / COVERED_K
    )
    u_settling = math.sqrt(max(u * u - posterior.u_noise**2 - u_step**2, 0.0))
    size = settled.mean - posterior.start
    limit = allowed if allowed is not None else max(SETTLED_SHARE * abs(size), samples.step)
    slow_s = math.exp(float(posterior.shape_mean[2]))
    more_s = 0.0
    if 2.0 * u_settling > limit:
        more_s = slow_s * math.log(2.0 * u_settling / limit) if limit > 0 else math.inf
    # Welch-Satterthwaite (JCGM 100:2008, G.4.1), only the noise being estimated: root of looks, as they are correlated.
    many = len(samples.values) >= FEW and posterior.u_noise > 0
    return SettledValue(
        settled.mean,
        u,
        dof=len(samples.values) ** 0.5 * (u / posterior.u_noise) ** 4 if many else math.inf,
        low=low,
        high=high,
        settled=more_s == 0.0,
        more_s=more_s,
        u_settling=u_settling,
        u_noise=posterior.u_noise,
        u_step=u_step,
        reason="Settled." if more_s == 0.0 else f"Not settled, needs about {_plain_s(more_s)} s more.",
        start=posterior.start,
        fast_s=math.exp(float(posterior.shape_mean[0])),
        tail_share=float(posterior.shape_mean[1]),
        slow_s=slow_s,
    )


def _least_u_step(samples: Samples, posterior: Posterior) -> float:
    """Return what the display step leaves at least: looks typed, or not spread by noise, all round alike."""
    if samples.step <= 0.0:
        return 0.0
    kept = float(correlation_left_by_rounding(posterior.noise_sd, samples.step))
    return samples.step / math.sqrt(12.0) * (1.0 if len(samples.values) < FEW else math.sqrt(kept))


def _interval(posterior: Posterior, level: float, added: float) -> tuple[float, float]:
    """Return the interval of the settled value, its arms lengthened by a further variance."""
    mean, reach = posterior.settled.mean, COVERED_K**2 * added * (math.log(1.0 - level) / math.log(1.0 - COVERED))
    below, above = (posterior.settled.quantile(0.5 + sign * 0.5 * level) - mean for sign in (-1.0, 1.0))
    return mean - math.sqrt(below**2 + reach), mean + math.sqrt(above**2 + reach)


def _plain_s(more_s: float) -> str:
    return str(max(5, 5 * math.ceil(more_s / 5.0))) if more_s < 100 else str(10 * math.ceil(more_s / 10.0))
