"""One visit judged again with the reference's right value: before and after, nothing altered in the old record."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from flueproof.analyzer.profile import Profile
from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle, bundle_from_dict
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.judgement import Judgement, PointJudgement
from flueproof.bench.record.record import Record
from flueproof.impact.reference.change import ReferenceChange, record_with, steps_touched
from flueproof.metrology.conformity import DecisionRule, decision_rule


@dataclass(frozen=True, slots=True)
class PointChange:
    """One test point before and after, in its core unit.

    direction: `worse` (conform before, not after), `better`, `same`; changed: whether the statement differs.
    """

    step: str
    phase: str
    channel: str
    unit: str
    counts: bool
    reference_before: float
    reference_after: float
    error_before: float
    error_after: float
    U_before: float
    U_after: float
    limit: float
    before: str
    after: str

    @property
    def changed(self) -> bool:
        """Whether the statement is another one."""
        return self.before != self.after

    @property
    def direction(self) -> str:
        """`worse` where conform is lost, `better` where it is won, `moved` between the others, or `same`."""
        if self.before == self.after:
            return "same"
        if self.before == "conform":
            return "worse"
        return "better" if self.after == "conform" else "moved"

    def as_dict(self) -> dict[str, Any]:
        """Return plain values, null for what is no number."""
        plain = {name: getattr(self, name) for name in self.__slots__} | {"direction": self.direction}
        return {key: None if isinstance(one, float) and not math.isfinite(one) else one for key, one in plain.items()}


@dataclass(frozen=True, slots=True)
class Rejudged:
    """A visit before and after.

    points: those that rest on the reference; outcome_before, outcome_after: verdicts as found and as left, by phase.
    before, after: whole judgements, of which nothing replaces what was signed.
    """

    job: str
    points: tuple[PointChange, ...]
    outcome_before: dict[str, str | None]
    outcome_after: dict[str, str | None]
    before: Judgement
    after: Judgement

    @property
    def changed(self) -> tuple[PointChange, ...]:
        """Points whose statement is another one."""
        return tuple(point for point in self.points if point.changed)

    @property
    def danger(self) -> tuple[PointChange, ...]:
        """Points that were called conform and are not: their owners must be told."""
        return tuple(point for point in self.points if point.direction == "worse")


def judge_again(
    record: Record,
    profile: Profile,
    change: ReferenceChange,
    *,
    bundle: Bundle = EMPTY_BUNDLE,
    rule: DecisionRule | None = None,
) -> Rejudged:
    """Return a visit judged as it was and with the reference's right value, by one rule and one bundle.

    Raises: ReferenceChangeError where the visit does not rest on it; RecordError, NoLimitError as the judge.
    """
    again = record_with(record, change)
    before = judge_record(record, profile, name=record.job, bundle=bundle, rule=rule)
    after = judge_record(again, profile, name=record.job, bundle=bundle, rule=rule)
    touched = set(steps_touched(record, change))
    pairs = _pairs(before, after, touched)
    return Rejudged(
        record.job,
        tuple(_change(one, other) for one, other in pairs),
        _outcomes(before),
        _outcomes(after),
        before,
        after,
    )


def judge_signed_again(record: Record, profile: Profile, judgement: Judgement, change: ReferenceChange) -> Rejudged:
    """Return the same with the bundle and rule that the judgement was made by. Raises: as `judge_again`."""
    name, r = judgement.decision_rule["name"], judgement.decision_rule.get("r")
    return judge_again(record, profile, change, bundle=bundle_from_dict(judgement.bundle), rule=decision_rule(name, r))


def _pairs(before: Judgement, after: Judgement, touched: set[str]) -> list[tuple[PointJudgement, PointJudgement]]:
    later = {(point.step, point.channel, point.of): point for point in after.points}
    return [
        (point, later[(point.step, point.channel, point.of)])
        for point in before.points
        if touched & set(point.steps or (point.step,)) and (point.step, point.channel, point.of) in later
    ]


def _change(before: PointJudgement, after: PointJudgement) -> PointChange:
    return PointChange(
        step=before.step,
        phase=before.phase,
        channel=before.channel,
        unit=before.unit,
        counts=before.counts,
        reference_before=before.reference,
        reference_after=after.reference,
        error_before=before.error,
        error_after=after.error,
        U_before=before.U,
        U_after=after.U,
        limit=after.limit,
        before=before.statement,
        after=after.statement,
    )


def _outcomes(judgement: Judgement) -> dict[str, str | None]:
    return {
        "as-found": judgement.as_found.outcome if judgement.as_found else None,
        "as-left": judgement.as_left.outcome if judgement.as_left else None,
    }
