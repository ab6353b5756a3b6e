"""An observation: what is said, asked, checked on site or measured, and how likely each answer is under each cause."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from flueproof.faults.knowledge.spread import Spread

KINDS = ("complaint", "question", "field-check", "bench")
SAFETY = ("safe", "care", "unsafe", "destructive")
"""`care` may be proposed with its caution; `unsafe` and `destructive` are known but never proposed."""
YES_NO = ("yes", "no")


@dataclass(frozen=True, slots=True)
class Choices:
    """Answers out of a list.

    answers: their names; usual: probability of each where no cause speaks [-]; under: the same per cause that does.
    """

    answers: tuple[str, ...]
    usual: tuple[float, ...]
    under: Mapping[str, tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Numbers:
    """A measured number.

    unit: of the value; low, high: what it can be [unit]; log: scattered on a logarithmic scale; typical_u: standard
    uncertainty of a usual measurement [unit, or relative where log]; odd: share of results from anywhere in the range
    (blunders) [-]; usual: spread where no cause speaks; under: spread per cause that does.
    """

    unit: str
    low: float
    high: float
    log: bool
    typical_u: float
    odd: float
    usual: Spread
    under: Mapping[str, Spread]

    def on_scale(self, value: float) -> float:
        """Return a value on the scale of the spreads; values below the range count as its lower end."""
        return math.log(max(value, self.low)) if self.log else value

    def ends(self) -> tuple[float, float]:
        """Return the range on the scale of the spreads."""
        return (math.log(self.low), math.log(self.high)) if self.log else (self.low, self.high)


@dataclass(frozen=True, slots=True)
class Observation:
    """One thing to hear, ask, look at or measure.

    key; kind: one of KINDS; text: the question or the finding; why: why it is asked; how: what to do for it;
    likelihood: how likely each answer is; minutes [min], money [money of the shop]: what it costs; safety: one of
    SAFETY, caution: said with it; needs: what the analyzer must have, all of it; look: observations that look at the
    same thing share this name and count less each, "" for none; known_by: share of people asked who can answer [-];
    phrases: words of callers; source: of the figures.
    """

    key: str
    kind: str
    text: str
    why: str
    how: str
    likelihood: Choices | Numbers
    minutes: float
    money: float
    safety: str
    caution: str
    needs: frozenset[str]
    look: str
    known_by: float
    phrases: tuple[str, ...]
    source: str

    @property
    def may_be_proposed(self) -> bool:
        """Tell whether anybody may be asked to do it."""
        return self.kind != "complaint" and self.safety in {"safe", "care"}
