"""The last gas through the owner's own path: what the bench record says of it, after all work on the analyzer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from flueproof.bench.judgement import PointJudgement
from flueproof.shop.records.visits.judged import Judged
from flueproof.shop.records.visits.rules.phase import WORK_KINDS

_WHOLE_PATH: Final = "tip"  # nearer feeds leave out the tip, the seal of the probe and the hose


@dataclass(frozen=True, slots=True)
class LastGas:
    """good: gas came through the owner's whole path after the last work, and every point of it that counts conforms;
    words: what the record says.
    """

    good: bool
    words: str


def last_gas_check(found: Judged) -> LastGas:
    """Return what the record says of gas at the owner's own tip after the last work; work is a drain no more."""
    if found.record is None or found.judgement is None:
        return LastGas(good=False, words="")
    steps = found.record.standing_steps()
    worked = max((place for place, step in enumerate(steps) if _is_work(step)), default=-1)
    after = [step for step in steps[worked + 1 :] if _through_owners_path(step)]
    if not after:
        before = any(_through_owners_path(step) for step in steps)
        said = "Gas went through the owner's probe before the last work, not after it." if before else ""
        return LastGas(good=False, words=said)
    ids = {step.id for step in after}
    points = [one for one in found.judgement.points if one.counts and ids & {one.step, *one.steps}]
    bad = [one for one in points if one.statement != "conform"]
    if bad or not points:
        said = "; ".join(_point(one) for one in bad) or "it could not be judged"
        return LastGas(good=False, words=f"The last gas through the owner's probe: {said}.")
    return LastGas(good=True, words=f"The record says so ({_steps(after)}): {'; '.join(_point(p) for p in points)}.")


def _is_work(step: Any) -> bool:
    return step.kind in WORK_KINDS and step.kind != "drain"


def _through_owners_path(step: Any) -> bool:
    path = getattr(step, "path", None)
    return step.kind == "test-gas" and path is not None and path.feed == _WHOLE_PATH and path.probe == "owner"


def _steps(steps: Sequence[Any]) -> str:
    return ", ".join(step.id for step in steps)


def _point(point: PointJudgement) -> str:
    words = {"conform": "conforms", "not-conform": "does not conform", "undecided": "too close to call"}
    return f"{point.channel.upper().replace('_', ' ')} at {point.reference:g} {point.unit} {words[point.statement]}"
