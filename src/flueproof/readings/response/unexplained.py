"""Looks that no response explains: one look that does not fit, or several."""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from flueproof.readings.response.posterior import Posterior, Samples, posterior_of
from flueproof.readings.response.prior import ResponsePrior
from flueproof.readings.response.result import COVERED_K, FEW, result_of
from flueproof.readings.settled import SettledValue

# Weighted squares of few looks together beyond which no response explains them; typed looks of simulated responses stay
# below 5 (own choice). Below zero the fit has not settled down.
UNEXPLAINED = 12.0
FEWEST = 4  # looks of which one may be left out
ONE_LOOK = "Not settled: one look does not fit the others, perhaps a slip; read the display again."
NO_RESPONSE = "Not settled: the looks follow no response to a step of gas; repeat with gas on until the reading stands."
UNRELIABLE_S = 60.0  # how much longer to look at least, when the looks tell nothing (own choice)


def is_unexplained(samples: Samples, posterior: Posterior) -> bool:
    """Tell whether so few looks that a person typed them fit no response (weighted squares [-]).

    Source: own rule (UNEXPLAINED: common practice, no source).
    """
    squares = posterior.misfit * len(samples.values)
    return len(samples.values) < FEW and not -1.0 < squares < UNEXPLAINED


def without_one_look(
    samples: Samples, prior: ResponsePrior, level: float, allowed: float | None
) -> tuple[SettledValue, Posterior] | None:
    """Return the settled value when one look does not fit; None when leaving out one look explains nothing.

    samples: few looks [unit]; prior: of the model; level, allowed: as in `settle`. Every look is left out in turn; the
    value is of what fits best, the interval covers all that fit: nobody can say which look is the slip.
    Source: own rule.
    """
    fits: list[tuple[float, SettledValue, Posterior]] = []
    for place in range(len(samples.values) if len(samples.values) >= FEWEST else 0):
        kept = np.arange(len(samples.values)) != place
        rest = dataclasses.replace(samples, times_s=samples.times_s[kept], values=samples.values[kept])
        try:
            posterior = posterior_of(rest, prior)
        except (ArithmeticError, np.linalg.LinAlgError):
            continue
        if not is_unexplained(rest, posterior):
            fits.append((posterior.misfit * len(rest.values), result_of(rest, posterior, level, allowed), posterior))
    if not fits:
        return None
    _, best, posterior = min(fits, key=lambda fit: fit[0])
    low, high = min(fit.low for _, fit, _ in fits), max(fit.high for _, fit, _ in fits)
    # What the look that does not fit and the last one say is not ruled out either.
    low, high = min(low, float(samples.values[-1])), max(high, float(samples.values[-1]))
    u = max(best.u, (high - best.value) / COVERED_K, (best.value - low) / COVERED_K)
    return _doubted(best, u, low, high, ONE_LOOK), posterior


def unexplained(samples: Samples, start: float) -> SettledValue:
    """Return the last reading with an uncertainty that covers all looks, for looks that follow no response.

    samples: [unit]; start: reading before the step [unit].
    Source: own rule.
    """
    value = float(samples.values[-1])
    u_step = samples.step / math.sqrt(12.0)
    low, high = float(np.min(samples.values)) - samples.step, float(np.max(samples.values)) + samples.step
    u = max((high - value) / COVERED_K, (value - low) / COVERED_K)
    plain = SettledValue(value, u, u_step=u_step, t50_s=math.nan, start=start)
    return _doubted(plain, u, low, high, NO_RESPONSE)


def _doubted(settled: SettledValue, u: float, low: float, high: float, reason: str) -> SettledValue:
    return dataclasses.replace(
        settled,
        u=u,
        dof=math.inf,
        low=low,
        high=high,
        settled=False,
        more_s=max(settled.more_s, UNRELIABLE_S),
        u_settling=math.sqrt(max(u * u - settled.u_noise**2 - settled.u_step**2, 0.0)),
        reason=reason,
    )
