"""How much is used: a rate with its doubt, and the use that it predicts; few data give a wide answer."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from flueproof.parts.demand.season import Month
from flueproof.parts.errors import UnusableNumberError

_TAIL = 1e-12
_MOST = 100_000


@dataclass(frozen=True, slots=True)
class Rate:
    """Use in an average month, as a gamma distribution: mean shape / months.

    shape: pieces used, with the prior's one [-]; months: average months seen, with the prior's [average months].
    """

    shape: float
    months: float

    @property
    def mean(self) -> float:
        """Pieces in an average month."""
        return self.shape / self.months


def rate_of(used: Mapping[Month, float], seen: Mapping[Month, float], season: Sequence[float], guess: float) -> Rate:
    """Return the rate after what was used; the guess weighs as much as one piece.

    used, seen: as in `factors`; season: factors by month; guess: pieces in an average month before anything was
    counted, above 0. Raises: UnusableNumberError.
    Source: conjugate gamma prior of the Poisson rate (Gelman et al., Bayesian Data Analysis, 3rd ed., 2.6); from
    memory.
    """
    if not guess > 0:
        raise UnusableNumberError(f"a guess of {guess} pieces a month; give one above 0")
    pieces = max(sum(used.get(month, 0.0) for month in seen), 0.0)
    weight = sum(share * season[month - 1] for (_, month), share in seen.items())
    return Rate(1.0 + pieces, 1.0 / guess + weight)


def predicted(rate: Rate, weight: float) -> list[float]:
    """Return the probability of using 0, 1, 2 ... pieces in a span, up to where less than 1e-12 is left.

    weight: the span [average months]. A Poisson count with a gamma rate is negative binomial.
    Raises: UnusableNumberError for a span below 0 or a use beyond 100,000 pieces.
    Source: Gelman et al., Bayesian Data Analysis, 3rd ed., 2.6, from memory.
    """
    if weight < 0 or rate.mean * weight > _MOST / 10:
        raise UnusableNumberError(f"a span of {weight:g} average months at {rate.mean:g} pieces a month")
    again = weight / (rate.months + weight)
    if again < _TAIL:
        return [1.0]
    first = rate.shape * math.log1p(-again)
    logs, total, count = [first], math.exp(first), 0
    while (1.0 - total > _TAIL or count < rate.mean * weight) and count < _MOST:
        count += 1
        logs.append(logs[-1] + math.log(again) + math.log((rate.shape + count - 1) / count))
        total += math.exp(logs[-1])
        if count > rate.mean * weight and logs[-1] < math.log(_TAIL) - 10:
            break
    return [math.exp(one) for one in logs]


def enough_for(chances: Sequence[float], share: float) -> int:
    """Return the smallest count that covers the use with at least this probability [-].

    share: wanted probability, above 0 and below 1. Raises: UnusableNumberError.
    """
    if not 0 < share < 1:
        raise UnusableNumberError(f"a share of {share}; give one between 0 and 1")
    total = 0.0
    for count, chance in enumerate(chances):
        total += chance
        if total >= share - 1e-12:
            return count
    return len(chances)
