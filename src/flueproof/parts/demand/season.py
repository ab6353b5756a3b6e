"""The season in the shop's own use: a factor for each month, shrunk to that of the kind of part."""

from __future__ import annotations

import calendar
import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Final

from flueproof.parts.errors import UnusableNumberError

Month = tuple[int, int]
FLAT: Final = (1.0,) * 12
STRENGTH: Final = 6.0


def exposure(first: dt.date, last: dt.date) -> dict[Month, float]:
    """Return which share of each month lies between two days, both included [-]; empty where none does."""
    shares: dict[Month, float] = {}
    day = first
    while day <= last:
        length = calendar.monthrange(day.year, day.month)[1]
        end = min(dt.date(day.year, day.month, length), last)
        shares[day.year, day.month] = ((end - day).days + 1) / length
        if end == dt.date.max:
            break
        day = end + dt.timedelta(days=1)
    return shares


def factors(
    used: Mapping[Month, float], seen: Mapping[Month, float], prior: Sequence[float] = FLAT, strength: float = STRENGTH
) -> tuple[float, ...]:
    """Return a factor for January to December [-], their mean 1, pulled toward a prior by so many pieces a month.

    used: pieces by (year, month), none below 0; seen: share of that month that was watched [-]; prior: factors of the
    kind; strength: how many pieces the prior weighs in each month. Each factor is the posterior mean of a Poisson rate
    with a gamma prior: (strength + used) / (strength / prior + expected at a flat rate). A month that was not seen
    keeps its prior. Raises: UnusableNumberError.
    Source: conjugate gamma prior of the Poisson rate (Gelman et al., Bayesian Data Analysis, 3rd ed., 2.6), from
    memory; the strength: common practice, no source.
    """
    if len(prior) != 12 or min(prior) <= 0 or strength <= 0:
        raise UnusableNumberError("a season has twelve factors above 0, and a strength above 0")
    watched = sum(seen.values())
    total = sum(used.get(month, 0.0) for month in seen)
    rate = total / watched if watched else 0.0
    raw = []
    for month in range(1, 13):
        counted = sum(used.get(one, 0.0) for one in seen if one[1] == month)
        expected = rate * sum(share for one, share in seen.items() if one[1] == month)
        raw.append((strength + max(counted, 0.0)) / (strength / prior[month - 1] + expected))
    mean = sum(raw) / 12
    return tuple(one / mean for one in raw)


def weight_of_span(season: Sequence[float], first: dt.date, days: float) -> float:
    """Return how many average months a span of days weighs in its season [average months].

    first: its first day; days: its length [d], not negative. Raises: UnusableNumberError.
    Source: own rule.
    """
    if days < 0:
        raise UnusableNumberError(f"a span of {days} days")
    weight, left, day = 0.0, days, first
    while left > 0:
        length = calendar.monthrange(day.year, day.month)[1]
        here = min(left, length - day.day + 1)
        weight += season[day.month - 1] * here / length
        left -= here
        day = dt.date(day.year + day.month // 12, day.month % 12 + 1, 1)
    return weight
