"""The best decision now, and the question or test that saves most on the way to it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from flueproof.faults.inference.engine import Engine
from flueproof.faults.inference.evidence import Answers
from flueproof.faults.inference.posterior import Posterior
from flueproof.faults.inference.speaking import FloatArray
from flueproof.faults.knowledge.knowledge import Situation
from flueproof.faults.next_step.costs import Costs
from flueproof.faults.next_step.decision import Decision, decision_of, refuse_appliances
from flueproof.faults.next_step.looking_ahead import Look, saving_of_each, saving_of_two
from flueproof.faults.next_step.options import PLACES, LossTable
from flueproof.faults.next_step.rows import AnswerRows

KINDS_AT = {"phone": ("question", "field-check"), "bench": ("question", "bench", "field-check")}


@dataclass(frozen=True, slots=True)
class NextStep:
    """One observation to make.

    saving: expected minutes it saves beyond its own cost [min]; cost: of making it, money included [min].
    """

    observation: str
    saving: float
    cost: float


@dataclass(frozen=True, slots=True)
class Advice:
    """decision: best with what is known; step: what to ask or test first, None when it would change nothing worth its
    minutes; others: further steps, best first; posterior: behind both.
    """

    decision: Decision
    step: NextStep | None
    others: tuple[NextStep, ...]
    posterior: Posterior


class Advisor:
    """Decides and asks over one engine; holds tables only, no memory of answers."""

    def __init__(self, engine: Engine, costs: Costs) -> None:
        self.engine = engine
        self.costs = costs
        self._rows = AnswerRows(engine)
        self._losses = {place: LossTable(engine.knowledge, engine.hypotheses, costs, place) for place in PLACES}

    def advise(
        self,
        answers: Answers,
        situation: Situation | None = None,
        *,
        place: str = "phone",
        asked: Collection[str] = (),
        needed: bool = False,
        about: str = "analyzer",
    ) -> Advice:
        """Return the decision with what is known, and the next question or test while one is worth its cost.

        answers: by observation, None for "not known" (not asked again); place: phone or bench; asked: further
        observations not to propose; needed: the owner cannot be without an analyzer; about: must be the analyzer.
        Raises: EvidenceError, NoClearanceError, ValueError (a place that is none of PLACES).
        """
        refuse_appliances(about)
        if place not in PLACES:
            raise ValueError(f"{place!r} is no place; places are: {', '.join(PLACES)}.")
        situation = situation or Situation()
        posterior = self.engine.posterior(answers, situation)
        losses = self._losses[place]
        expected = losses.losses @ posterior.probability
        best = int(np.argmin(expected))
        decision = decision_of(losses.options[best], posterior, float(expected[best]), self.costs, needed=needed)
        steps = self._steps(posterior, situation, losses.losses, place, {*answers, *asked})
        worth = [step for step in steps if step.saving > 0.0]
        return Advice(decision, worth[0] if worth else None, tuple(worth[1:6]), posterior)

    def _steps(
        self, posterior: Posterior, situation: Situation, losses: FloatArray, place: str, done: set[str]
    ) -> list[NextStep]:
        knowledge = self.engine.knowledge
        open_keys = [
            at
            for at, key in enumerate(self._rows.keys)
            if key not in done
            and knowledge.observations[key].kind in KINDS_AT[place]
            and (situation.has is None or knowledge.observations[key].needs <= situation.has)
        ]
        if not open_keys:
            return []
        look = self._look(posterior, losses, open_keys)
        savings = saving_of_each(look)
        if float(savings.max()) <= 0.0:
            savings = saving_of_two(look, savings)
        steps = [
            NextStep(self._rows.keys[at], float(saving), float(cost))
            for at, saving, cost in zip(open_keys, savings, look.cost, strict=True)
        ]
        return sorted(steps, key=lambda step: (-step.saving, step.observation))

    def _look(self, posterior: Posterior, losses: FloatArray, open_keys: list[int]) -> Look:
        """Return what looking ahead needs, cut down to the hypotheses that carry nearly all probability."""
        order = np.argsort(-posterior.probability, kind="stable")
        reach = int(np.searchsorted(np.cumsum(posterior.probability[order]), self.costs.search_share)) + 1
        kept = order[:reach]
        probability = posterior.probability[kept] / posterior.probability[kept].sum()
        is_open = np.zeros(len(self._rows.keys), dtype=np.bool_)
        is_open[open_keys] = True
        usable = np.flatnonzero(is_open[self._rows.owner])
        observations = [self.engine.knowledge.observations[self._rows.keys[at]] for at in open_keys]
        seen = self.engine.look_weights(tuple(posterior.said))
        looks = {self.engine.knowledge.observations[key].look for key in seen} - {""}
        rows = self._rows.rows[np.ix_(usable, kept)]
        place_of = {at: place for place, at in enumerate(open_keys)}
        return Look(
            probability=probability,
            losses=losses[:, kept],
            rows=rows,
            owner=np.array([place_of[int(at)] for at in self._rows.owner[usable]], dtype=np.intp),
            cost=np.array([self.costs.minutes(one.minutes, one.money) for one in observations]),
            known_by=np.array([one.known_by for one in observations]),
            repeats=np.array([one.look in looks for one in observations]),
            overlap=self.engine.knowledge.priors.overlap,
        )
