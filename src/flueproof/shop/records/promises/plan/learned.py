"""The minutes of the shop's own finished jobs, per model and service, step by step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from flueproof.shop.records.promises.plan.steps import OF_SERVICE, Minutes, usual_minutes


@dataclass(frozen=True, slots=True)
class Learned:
    """What was learned: (model, service, step) -> minutes; what nothing is known of takes the usual ones."""

    minutes: Mapping[tuple[str, str, str], Minutes] = field(default_factory=dict)

    def of(self, model: str, service: str) -> dict[str, Minutes]:
        """Return the minutes of each step of a service for a model."""
        return {step: self.minutes.get((model, service, step), usual_minutes(step)) for step in OF_SERVICE[service]}


def learned_now() -> Learned:
    """Return what the shop has learned by now."""
    return Learned()
