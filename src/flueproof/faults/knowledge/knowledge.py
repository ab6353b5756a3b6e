"""All that is known: causes, observations, how priors follow the situation."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from flueproof.faults.knowledge.cause import Cause
from flueproof.faults.knowledge.observation import Observation

HEATING_MONTHS = (10, 11, 12, 1, 2, 3)


@dataclass(frozen=True, slots=True)
class Priors:
    """How often things are, before anybody asks.

    none: calls out of a thousand with nothing behind them at all [-]; none_routine: the same weight for analyzers that
    only come for their yearly check [-]; pair_share: pairs of causes per single one [-];
    together: factor for pairs that come more often together, keyed by both names sorted [-]; ageing: per part, steps
    (from this age [years], factor on the weight [-]), ascending; seasons: factor inside and outside a cause's own
    season [-]; overlap: how much two looks at the same thing repeat each other, 0 to 1 [-].
    """

    none: float
    none_routine: float
    pair_share: float
    together: Mapping[tuple[str, str], float]
    ageing: Mapping[str, tuple[tuple[float, float], ...]]
    seasons: tuple[float, float]
    overlap: float


@dataclass(frozen=True, slots=True)
class Knowledge:
    """The tables as values; `causes` and `observations` keep the order of the files."""

    causes: Mapping[str, Cause]
    observations: Mapping[str, Observation]
    priors: Priors


@dataclass(frozen=True, slots=True)
class Situation:
    """What is known of the analyzer before the first question.

    has: what it has (channels and fittings, names as in `needs`), None when not known: then everything is possible;
    ages: age of parts [years]; month: 1 to 12, None when not known (the northern half of the globe is meant); routine:
    it came for its yearly check, nobody complained.
    """

    has: frozenset[str] | None = None
    ages: Mapping[str, float] | None = None
    month: int | None = None
    routine: bool = False


def weight_of(cause: Cause, priors: Priors, situation: Situation) -> float:
    """Return the weight of a cause in a situation [calls out of a thousand, before scaling]; 0 where impossible."""
    if situation.has is not None and not cause.needs <= situation.has:
        return 0.0
    weight = cause.weight
    age = (situation.ages or {}).get(cause.ages)
    if age is not None:
        for start, factor in priors.ageing.get(cause.ages, ()):
            if age >= start:
                weight = cause.weight * factor
    if situation.month is not None and cause.season != "all":
        inside = (situation.month in HEATING_MONTHS) == (cause.season == "heating")
        weight *= priors.seasons[0] if inside else priors.seasons[1]
    return weight
