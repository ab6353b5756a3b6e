"""An analyzer that was lost, stolen or sold comes back only through as found: nothing is changed on it before."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from flueproof.bench.errors import RecordError
from flueproof.bench.judgement import Judgement
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.surroundings import VisualStep
from flueproof.shop.records.models import Job

IMPOSSIBLE: Final = "As found impossible: "
"""How a visual step begins that says why the state as found cannot be measured, such as a unit that stays dark."""


def was_found(judgement: Judgement | None) -> bool:
    """Tell whether the state as found was measured: a counting point of it is judged."""
    return judgement is not None and any(point.phase == "as-found" and point.counts for point in judgement.points)


def refuse_before_as_found(job: Job, record: Record, judgement: Callable[[], Judgement | None]) -> None:
    """Refuse work on an analyzer whose state as found must be known first and is not.

    judgement: of the record before this step, asked for only where it matters. Source: common practice, no source.
    Raises: RecordError.
    """
    if not job.analyzer.as_found_needed or _said_impossible(record) or was_found(judgement()):
        return
    raise RecordError(
        f"$.steps[{len(record.steps) - 1}].kind",
        "this analyzer was lost, stolen or sold on: its state as found comes before any work on it.",
        f'Measure it as found first; where that cannot be, look it over and write "{IMPOSSIBLE}..." with the reason.',
    )


def _said_impossible(record: Record) -> bool:
    return any(
        isinstance(step, VisualStep) and step.text.startswith(IMPOSSIBLE) and len(step.text) > len(IMPOSSIBLE)
        for step in record.standing_steps()
    )
