"""As found before as left: the record decides the phase, never the person."""

from __future__ import annotations

from typing import Final

from flueproof.bench.errors import RecordError
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.step import MeasuringStep
from flueproof.bench.record_notes import worked_on

AS_FOUND: Final = "as-found"
AS_LEFT: Final = "as-left"
WORK_KINDS: Final = frozenset({"adjust", "part", "upkeep", "drain"})


def phase_of(record: Record | None) -> str:
    """Return the phase that a measurement made now belongs to: as left as soon as the analyzer was worked on."""
    return AS_LEFT if record is not None and worked_on(record) else AS_FOUND


def refuse_late_as_found(record: Record) -> None:
    """Refuse a last step that claims the state as found after work on the analyzer.

    Raises: RecordError.
    """
    last = record.steps[-1]
    if isinstance(last, MeasuringStep) and last.phase == AS_FOUND and phase_of(record) == AS_LEFT:
        raise RecordError(
            f"$.steps[{len(record.steps) - 1}].phase",
            "as found is closed: the analyzer was adjusted, cleaned or repaired before this measurement.",
            "Measure it as left; the state as found is what was measured before the work.",
        )
