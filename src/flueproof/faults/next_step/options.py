"""What can be decided, and what each decision costs under each hypothesis."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.faults.inference.hypotheses import Hypotheses
from flueproof.faults.inference.speaking import FloatArray
from flueproof.faults.knowledge.cause import Cause
from flueproof.faults.knowledge.knowledge import Knowledge
from flueproof.faults.next_step.costs import Costs

PLACES = ("phone", "bench")


@dataclass(frozen=True, slots=True)
class Option:
    """One thing to decide. kind: mend, explain, send-in, repair, own-gas or nothing-found; cause or service: which."""

    kind: str
    cause: str | None = None
    service: str | None = None


def options_at(knowledge: Knowledge, place: str) -> list[Option]:
    """Return all decisions that can be taken at a place.

    On the phone: a mend by the owner, an explanation, sending in for a service, nothing found. At the bench: the mend
    of each cause, nothing found.
    """
    kinds = {"field": "mend", "explain": "explain", "bench": "repair", "shop": "own-gas"}
    causes = knowledge.causes.values()
    if place == "bench":
        own = [Option("repair" if one.mend == "field" else kinds[one.mend], one.key) for one in causes]
        return [*own, Option("nothing-found")]
    own = [Option(kinds[one.mend], one.key) for one in causes if one.by_owner]
    services = sorted({one.service for one in causes if one.mend == "bench"})
    return [*own, *(Option("send-in", service=service) for service in services), Option("nothing-found")]


class LossTable:
    """Cost of every option under every hypothesis at one place [min], shape (options, hypotheses)."""

    def __init__(self, knowledge: Knowledge, hypotheses: Hypotheses, costs: Costs, place: str) -> None:
        self.options = options_at(knowledge, place)
        self._causes = [knowledge.causes[key] for key in hypotheses.causes]
        self._costs = costs
        self._place = place
        self._first, self._second = hypotheses.first, hypotheses.second
        self.losses: FloatArray = np.array([self._row(option) for option in self.options])

    def _each(self, values: Iterable[float]) -> FloatArray:
        """Return a figure of each cause, with 0 for "no cause" at the end."""
        return np.append(np.array(list(values), dtype=np.float64), 0.0)

    def _sum(self, figure: FloatArray) -> FloatArray:
        total: FloatArray = figure[self._first] + figure[self._second]
        return total

    def _row(self, option: Option) -> FloatArray:
        if option.kind == "nothing-found":
            missed = self._sum(self._each(self._costs.missed(one) for one in self._causes))
            something = missed > 0
            return (missed + self._after_failing(self._first, self._second)) * something
        if option.kind == "send-in":
            return self._sent(option.service)
        return self._tried(option)

    def _tried(self, option: Option) -> FloatArray:
        """Mending one cause: done when it is the only one; else what is left is not known by name any better."""
        at = next(place for place, one in enumerate(self._causes) if one.key == option.cause)
        none = len(self._causes)
        left_first = np.where(self._first == at, none, self._first)
        left_second = np.where(self._second == at, none, self._second)
        alone = (left_first == none) & (left_second == none) & (self._first != none)
        rest = self._after_failing(left_first, left_second)
        if option.kind == "explain":  # who is told that nothing is wrong may believe it
            missed = self._each(self._costs.missed(one) for one in self._causes)
            rest = rest + self._costs.believed * (missed[left_first] + missed[left_second])
        result: FloatArray = self._costs.mend(self._causes[at]) + np.where(alone, 0.0, rest)
        return result

    def _after_failing(self, first: NDArray[np.intp], second: NDArray[np.intp]) -> FloatArray:
        """Return what is paid after a decision that did not help, by what is still there, shape of first [min].

        On the phone the next step is to send it in, needed or not; at the bench it is searched once more.
        """
        costs = self._costs
        mends = self._each(costs.mend(one) for one in self._causes)
        left: FloatArray = mends[first] + mends[second]
        if self._place == "bench":
            return np.add(left, costs.bench_again_minutes)
        bench = self._each(0.0 if one.by_owner else 1.0 for one in self._causes)
        unneeded = (bench[first] + bench[second]) == 0
        left = left + costs.unneeded_minutes * unneeded
        return left + (costs.try_again_minutes + costs.send_in_minutes)

    def _sent(self, service: str | None) -> FloatArray:
        """Sending in: the bench mends all; another service than asked for, or none at all, costs more."""
        costs = self._costs
        mends = self._sum(self._each(costs.mend(one) for one in self._causes))
        bench = self._sum(self._each(0.0 if one.by_owner else 1.0 for one in self._causes)) > 0
        fits = self._sum(self._each(float(_is_for(one, service)) for one in self._causes)) > 0
        return (
            costs.send_in_minutes
            + mends
            + np.where(bench, np.where(fits, 0.0, costs.wrong_service_minutes), costs.unneeded_minutes)
        )


def _is_for(cause: Cause, service: str | None) -> bool:
    return cause.mend == "bench" and cause.service == service
