"""On arrival, in this order: let water out and look for it, then look the unit over, then power; memory before work."""

from __future__ import annotations

from typing import Any, Final

from flueproof.bench.errors import RecordError
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.remarks import NoteStep
from flueproof.bench.record.steps.surroundings import VisualStep, ZeroingStep
from flueproof.bench.record.steps.work import DrainStep

WATER: Final = "Water: "
MEMORY: Final = "Memory: "
MEMORY_ANSWERS: Final = (
    ("backed-up", "stored readings backed up"),
    ("not-wanted", "owner asked, stored readings not wanted"),
    ("none", "this unit stores nothing"),
    ("unreadable", "cannot be read; owner told that it may be lost"),
)


def looked_for_water(record: Record | None) -> bool:
    """Tell whether trap and hose were drained or seen to be dry."""
    return record is not None and any(
        isinstance(step, DrainStep) or (isinstance(step, VisualStep) and step.text.startswith(WATER))
        for step in record.standing_steps()
    )


def powered(record: Record | None) -> bool:
    """Tell whether the analyzer was switched on in this record."""
    return record is not None and any(isinstance(step, ZeroingStep) for step in record.standing_steps())


def looked_over(record: Record | None) -> bool:
    """Tell whether the unit was looked over, apart from the look for water."""
    return record is not None and any(
        isinstance(step, VisualStep) and not step.text.startswith(WATER) for step in record.standing_steps()
    )


def memory_settled(record: Record | None) -> bool:
    """Tell whether the stored readings were backed up or asked about."""
    return record is not None and any(
        isinstance(step, NoteStep) and step.text.startswith(MEMORY) for step in record.standing_steps()
    )


def may_wipe_memory(step: dict[str, Any]) -> bool:
    """Tell whether a step can wipe what the unit has stored: its case opened, its settings changed, parts exchanged.

    Source: common practice, no source.
    """
    return step["kind"] == "part" or (step["kind"] == "settings" and bool(step.get("changed")))


def refuse_too_early(record: Record | None, step: dict[str, Any]) -> None:
    """Refuse power before water was looked for, and what may wipe the memory before it was asked about.

    Raises: RecordError.
    """
    if step["kind"] == "zeroing" and not (powered(record) or looked_for_water(record)):
        raise RecordError(
            "$.kind",
            "trap and hose come first: water that is drawn into a running pump ruins cells and board.",
            "Drain, look for water, record it, then switch on.",
        )
    if may_wipe_memory(step) and not memory_settled(record):
        raise RecordError(
            "$.kind",
            "this may wipe what the analyzer has stored, and nothing says that it was backed up or asked about.",
            "Back the stored readings up or ask the owner, record it under Memory, then go on.",
        )
