"""How likely a promise breaks: in words, as a figure and as a shape, so that no color is needed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

_LEVELS: Final = (
    (0.95, "breaks", "will break by this plan"),
    (0.5, "likely", "more likely broken than kept"),
    (0.1, "may", "may break"),
    (0.0, "kept", "kept by this plan"),
)
_SERIOUS: Final = frozenset({"breaks", "likely", "may"})


@dataclass(frozen=True, slots=True)
class RiskMark:
    """One risk: level (class and shape), words, figure."""

    level: str
    words: str
    figure: str

    @property
    def serious(self) -> bool:
        """Return True where somebody should look at it."""
        return self.level in _SERIOUS


def risk_mark(risk: float | None, *, promised: Any = None) -> RiskMark | None:
    """Return the mark of a probability that a promise breaks; None where nothing is promised or known.

    promised: the promised minute on the axis of the plan (negative: over already), or the day.
    """
    if risk is None or promised is None:
        return None
    if isinstance(promised, int) and promised < 0:
        return RiskMark("breaks", "late already", "")
    level, words = next((level, words) for least, level, words in _LEVELS if risk >= least)
    return RiskMark(level, words, _figure(risk))


def _figure(risk: float) -> str:
    percent = round(100 * risk)
    if percent == 0:
        return "risk under 1 %"
    return "risk over 99 %" if percent >= 100 else f"risk {percent} %"
