"""A needed point that is not measured: only with a written reason, and then no certificate claims it.

The reason is a note step whose text begins in a way of our own that is read back here; the judge knows nothing of
it, finds the point missing and lists it as not tested, so nothing can be signed as if it had been measured.
"""

from __future__ import annotations

import dataclasses
import re
from typing import Any, Final

from flueproof.analyzer.profile import Profile
from flueproof.bench.errors import RecordError
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.remarks import NoteStep

LEAST_REASON: Final = 5
_BEGINNING: Final = re.compile(r"Not tested (as found|as left) \[([A-Za-z0-9_.-]+)\]: (.+)", re.DOTALL)


@dataclasses.dataclass(frozen=True, slots=True)
class Skip:
    """A point left out: in which phase, which point, why, and the note step that says so."""

    phase: str
    point: str
    why: str
    step: str
    by: str


def skip_note(point: str, phase: str, why: str, profile: Profile) -> dict[str, Any]:
    """Return the note step that leaves a point out.

    Raises: RecordError for a point that the profile lacks, or a reason too short to be one.
    """
    if point not in {one.id for one in profile.points}:
        raise RecordError("$.point", f"the procedure has no point {point!r}.", "Choose a point of the plan.")
    if len(why.strip()) < LEAST_REASON:
        raise RecordError("$.why", "a point is left out only with a reason in writing.", "Write why in a few words.")
    return {"kind": "note", "text": f"Not tested {phase.replace('-', ' ')} [{point}]: {why.strip()}"}


def skips_of(record: Record | None) -> dict[tuple[str, str], Skip]:
    """Return what was left out, by (phase, point); a struck note leaves nothing out."""
    found: dict[tuple[str, str], Skip] = {}
    for step in record.standing_steps() if record is not None else ():
        said = _BEGINNING.fullmatch(step.text) if isinstance(step, NoteStep) else None
        if said is not None:
            phase = said[1].replace(" ", "-")
            found[phase, said[2]] = Skip(phase, said[2], said[3], step.id, step.by)
    return found


def without_skipped(profile: Profile, record: Record | None, phase: str) -> Profile:
    """Return the profile less what was left out in a phase: for proposing the next test, never for judging."""
    gone = {point for when, point in skips_of(record) if when == phase}
    if not gone:
        return profile
    return dataclasses.replace(profile, points=tuple(point for point in profile.points if point.id not in gone))
