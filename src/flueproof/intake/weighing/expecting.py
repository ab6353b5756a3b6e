"""Who is expected: open requests, calls, due days; the prior of every row before a clue is read."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile
from flueproof.intake.file.roster import Totals
from flueproof.intake.recognition import Reason

CALL_DAYS = 14
DUE_DAYS = 90


@dataclass(frozen=True, slots=True)
class Expected:
    """The prior of a row.

    parts: (clue, words, share) of what raised it; anyone: the share without them; against: what lowered it all.
    """

    prior: float
    parts: tuple[tuple[str, str, float], ...] = ()
    anyone: float = 1.0
    against: tuple[Reason, ...] = ()

    def reasons(self) -> tuple[Reason, ...]:
        """Return what lifts the prior over that of its kind (its logarithm shared out), and what lowers it."""
        gains = [math.log1p(part / max(self.anyone, 1e-12)) for _, _, part in self.parts]
        lifted = math.log1p(sum(part for _, _, part in self.parts) / max(self.anyone, 1e-12))
        scale = lifted / sum(gains) if sum(gains) > 0 else 0.0
        lifts = (
            Reason(clue, words, gain * scale)
            for (clue, words, _), gain in zip(self.parts, gains, strict=True)
            if gain * scale > 0.01
        )
        return (*lifts, *self.against)


class Expectations:
    """Priors for one day's file."""

    def __init__(self, totals: Totals, today: dt.date, assumed: Assumptions) -> None:
        self._totals, self._today, self._assumed = totals, today, assumed
        self._due = sum(count * self._nearness(days) for days, count in totals.due.items())
        asked = assumed.asked if totals.requests else 0.0
        called = assumed.called if totals.callers else 0.0
        due = assumed.due if self._due > 0 else 0.0
        self._shares = (asked, called, due, 1.0 - asked - called - due)
        new_asked = assumed.new_asked if totals.requests else 0.0
        new_called = assumed.new_called if totals.callers else 0.0
        self._new_shares = (new_asked, new_called, 1.0 - new_asked - new_called)

    def known(self, owner: OwnerOnFile, analyzer: AnalyzerOnFile) -> Expected:
        """Return the prior that this analyzer of this owner comes."""
        asked, called, due, rest = self._shares
        totals, own = self._totals, max(1, len(owner.analyzers))
        anyone = rest / max(1, totals.analyzers)
        parts: list[tuple[str, str, float]] = []
        requests = sum(self._named(request, analyzer, own) for request in owner.requests)
        if requests:
            since = min(request.since for request in owner.requests)
            parts.append(("request", f"open request since {_day(since)}", asked * requests / max(1, totals.requests)))
        if self._lately(owner):
            words = f"called on {_day(owner.called_on or self._today)}"
            parts.append(("call", words, called / max(1, totals.callers) / own))
        if analyzer.next_due is not None and self._due > 0:
            days = (analyzer.next_due - self._today).days
            near = due * self._nearness(days) / self._due
            parts.append(("due", f"due on {_day(analyzer.next_due)}", near))
        usual = _expected(self._assumed.known, anyone, parts)
        if not analyzer.here_as:
            return usual
        again = self._assumed.again
        here = Reason("here", f"it is here already, as {analyzer.here_as}", math.log(again))
        return Expected(again * usual.prior, usual.parts, usual.anyone, (here,))

    def new(self, owner: OwnerOnFile) -> Expected:
        """Return the prior that this owner sends an analyzer never seen."""
        asked, called, rest = self._new_shares
        totals = self._totals
        size = max(1, len(owner.analyzers)) if owner.on_file else 0
        anyone = rest * size / max(1, totals.analyzers)
        parts: list[tuple[str, str, float]] = []
        unnamed = sum(request.analyzer is None for request in owner.requests)
        if unnamed:
            since = min(request.since for request in owner.requests)
            share = asked * unnamed / max(1, totals.requests)
            parts.append(("request", f"open request since {_day(since)}", share * 1.5))
        if self._lately(owner):
            words = f"called on {_day(owner.called_on or self._today)}"
            parts.append(("call", words, called / max(1, totals.callers)))
        return _expected(self._assumed.new, anyone, parts)

    def requested(self, request: OpenRequest) -> Expected:
        """Return the prior that an analyzer comes that a request tells of and that is not on file."""
        asked = self._assumed.known * self._assumed.asked + self._assumed.new * self._assumed.new_asked
        prior = asked * self._assumed.request_right / max(1, self._totals.requests)
        usual = self._assumed.known / max(1, self._totals.analyzers)
        words = f"open request since {_day(request.since)}"
        return Expected(prior, (("request", words, prior),), usual)

    def _named(self, request: OpenRequest, analyzer: AnalyzerOnFile, own: int) -> float:
        """Return the share of a request's weight that falls to an analyzer."""
        if request.analyzer is None:
            return 0.0 if request.serial else 1.0 / own
        return self._assumed.request_right if request.analyzer == analyzer.key else 0.0

    def _lately(self, owner: OwnerOnFile) -> bool:
        return owner.called_on is not None and 0 <= (self._today - owner.called_on).days <= CALL_DAYS

    def _nearness(self, days: int) -> float:
        return math.exp(-0.5 * (days / self._assumed.due_spread_days) ** 2) if abs(days) <= DUE_DAYS else 0.0


def _expected(kind: float, anyone: float, parts: list[tuple[str, str, float]]) -> Expected:
    return Expected(kind * max(anyone + sum(part for _, _, part in parts), 1e-12), tuple(parts), anyone)


def _day(day: dt.date) -> str:
    return f"{day.day} {day:%B %Y}"
