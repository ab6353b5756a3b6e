"""A decision in words that a page can show, with the cautions that go with it.

The engine speaks of analyzers only. Nothing it says clears an appliance, and asking it to is refused.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from flueproof.faults.errors import NoClearanceError
from flueproof.faults.inference.posterior import Posterior
from flueproof.faults.next_step.costs import Costs
from flueproof.faults.next_step.options import Option

NO_CLEARANCE = (
    "This is about the analyzer. It says nothing about any appliance: none is safe because of it. "
    "Local codes and licensed practice decide."
)
HIDES_CO = (
    "Until it has been on test gas, CO and O2 from this analyzer may look better than the truth: "
    "take no safety decision with it, and mind what it said lately."
)
PROVE = "Before it is relied on again: clean air, tightness, and where there is gas, one look at test gas."


@dataclass(frozen=True, slots=True)
class Decision:
    """What to do.

    kind: mend (by the owner), explain (nothing wrong with the analyzer), send-in, repair (at the bench), own-gas (the
    shop's reference or feed), nothing-found; cause: the one acted on, None for send-in and nothing-found; service and
    parts: for send-in and repair, parts of all causes likely enough; minutes, money: of the work, expected over them;
    expected_minutes: cost of deciding so, mistakes included [min]; right: probability that it needs no second try [-];
    borrow: lend one meanwhile; cautions: to be shown with it, always at least one.
    """

    kind: str
    cause: str | None
    service: str | None
    parts: tuple[str, ...]
    minutes: float
    money: float
    expected_minutes: float
    right: float
    borrow: bool
    cautions: tuple[str, ...]


def refuse_appliances(about: str) -> None:
    """Refuse any subject but the analyzer.

    Raises: NoClearanceError.
    """
    if about != "analyzer":
        raise NoClearanceError(f"No statement about {about!r} is made here. {NO_CLEARANCE}")


def decision_of(option: Option, posterior: Posterior, expected: float, costs: Costs, *, needed: bool) -> Decision:
    """Return an option as a decision.

    expected: its cost, mistakes included [min]; needed: the owner cannot be without an analyzer.
    """
    parts, minutes, money = _work(option, posterior)
    away = costs.away_days * costs.without_minutes_a_day if needed else 0.0
    return Decision(
        kind=option.kind,
        cause=option.cause,
        service=option.service if option.cause is None else posterior.knowledge.causes[option.cause].service or None,
        parts=parts,
        minutes=minutes,
        money=money,
        expected_minutes=expected,
        right=_right(option, posterior),
        borrow=option.kind == "send-in" and away > costs.loan_minutes,
        cautions=_cautions(option, posterior),
    )


def _work(option: Option, posterior: Posterior) -> tuple[tuple[str, ...], float, float]:
    knowledge = posterior.knowledge
    if option.cause is not None:
        cause = knowledge.causes[option.cause]
        return cause.parts, cause.minutes, cause.money
    if option.service is None:
        return (), 0.0, 0.0
    parts: list[str] = []
    minutes = money = 0.0
    for one in posterior.ranking(0.02):
        cause = knowledge.causes[one.cause]
        minutes, money = minutes + one.probability * cause.minutes, money + one.probability * cause.money
        if one.probability >= 0.15:  # worth having on the bench when the box is opened; habit, no source
            parts += [part for part in cause.parts if part not in parts]
    return tuple(parts), minutes, money


def _right(option: Option, posterior: Posterior) -> float:
    """Return the probability that the decision needs no second try [-]."""
    hypotheses, probability = posterior.hypotheses, posterior.probability
    if option.kind == "nothing-found":
        return posterior.nothing
    if option.cause is not None:
        return float(probability[1 + hypotheses.causes.index(option.cause)])
    causes = posterior.knowledge.causes
    fits = np.array([causes[k].mend == "bench" and causes[k].service == option.service for k in hypotheses.causes])
    fits = np.append(fits, False)
    return float(probability[fits[hypotheses.first] | fits[hypotheses.second]].sum())


def _cautions(option: Option, posterior: Posterior) -> tuple[str, ...]:
    hiding = [one for one in posterior.ranking(0.05) if posterior.knowledge.causes[one.cause].risk == "hides-co"]
    said = [NO_CLEARANCE]
    if hiding:
        said.append(HIDES_CO)
    if option.kind in {"mend", "explain", "nothing-found"}:
        said.append(PROVE)
    return tuple(said)
