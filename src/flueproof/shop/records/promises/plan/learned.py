"""The minutes of the shop's own finished jobs, per model and service, step by step, with their spread."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from django.db.models import Max

from flueproof.promise.schedule.learning import Finished, learn
from flueproof.promise.schedule.learning import Minutes as Known
from flueproof.shop.records.models import StepTime
from flueproof.shop.records.promises.plan.steps import KINDS, OF_SERVICE, Minutes

_NEWEST: Final = 4000
"""Steps that are learned from: some hundred jobs; what is older was another shop."""


@dataclass(frozen=True, slots=True)
class Learned:
    """What was learned of the hands and of the waiting; what nothing is known of takes the usual minutes."""

    hands: Known
    waiting: Known

    def of(self, model: str, service: str) -> Mapping[str, Minutes]:
        """Return the minutes of each step of a service for a model."""
        return {step: self._of(model, service, step) for step in OF_SERVICE[service]}

    def spread(self, model: str, service: str, step: str) -> float:
        """Return the spread of the hands-on minutes of a step: the standard deviation of their logarithm."""
        return self.hands.of(model, service, step).spread

    def _of(self, model: str, service: str, step: str) -> Minutes:
        hands = self.hands.of(model, service, step)
        usual = KINDS[step].waiting
        waiting = self.waiting.of(model, service, step).minutes if usual else 0.0
        return Minutes(hands.minutes, waiting, hands.jobs)


def learned_now() -> Learned:
    """Return what the shop has learned by now; nothing is learned twice from the same rows."""
    newest: int = StepTime.objects.aggregate(newest=Max("pk"))["newest"] or 0
    return _learned_from(newest, StepTime.objects.count())


@lru_cache(maxsize=4)
def _learned_from(newest: int, _count: int) -> Learned:
    rows = StepTime.objects.filter(pk__lte=newest, step__in=KINDS).order_by("-pk")
    told = list(
        rows.values_list("job__analyzer__model", "job__service", "step", "hands_on_min", "waiting_min")[:_NEWEST]
    )
    hands = learn((Finished(model, service, step, took) for model, service, step, took, _ in told), _usual("hands"))
    waited = (Finished(model, service, step, took) for model, service, step, _, took in told)
    return Learned(hands, learn(waited, _usual("waiting")))


def _usual(which: str) -> dict[str, float]:
    return {name: float(getattr(kind, which)) for name, kind in KINDS.items()}
