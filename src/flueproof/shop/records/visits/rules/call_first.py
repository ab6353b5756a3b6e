"""Call the owner first: after a failure as found nothing is adjusted before the owner has decided."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from flueproof.bench.errors import RecordError
from flueproof.bench.judgement import Judgement
from flueproof.bench.verdict.outcome import DECIDING_CHECKS, LEAKS
from flueproof.shop.records.models import Job, JobMoment

BARRED: Final = frozenset({"adjust", "part", "upkeep"})
DECISION: Final = "owner-decision"
GO_ON, RETURN, CALL_AGAIN = "go-on", "return-unadjusted", "call-again"
DECISIONS: Final = (
    (GO_ON, "go on: adjust or repair"),
    (RETURN, "return it unadjusted"),
    (CALL_AGAIN, "not reached, or asks to be called again"),
)


def found_outside(judgement: Judgement | None) -> bool:
    """Tell whether the state as found is outside: a counting point, a leak, or a check that decides."""
    if judgement is None or judgement.as_found is None:
        return False
    return (
        any(p.phase == "as-found" and p.counts and p.statement == "not-conform" for p in judgement.points)
        or judgement.gas_path.get("leak") in LEAKS
        or any(c.phase == "as-found" and c.ok is False and c.kind in DECIDING_CHECKS for c in judgement.checks)
    )


def last_decision(job: Job) -> JobMoment | None:
    """Return the owner's last decision on a job, None before the first call."""
    return job.moments.filter(what=DECISION).order_by("-id").first()


def decision_of(moment: JobMoment | None) -> str:
    """Return the decision that a moment holds ("" without one); its text begins with it."""
    return moment.text.split(":", 1)[0] if moment is not None else ""


def must_call(job: Job, judgement: Judgement | None) -> bool:
    """Tell whether the owner must decide before any work: so ordered, or so agreed for what is found outside."""
    return job.service == "call-first" or (job.owner.call_first and found_outside(judgement))


def refuse_before_decision(job: Job, judgement: Callable[[], Judgement | None], place: int) -> None:
    """Refuse work on an analyzer whose owner is to be called first and has not said to go on.

    judgement: asked for only where it matters; place: of the step in the record. Raises: RecordError.
    """
    decision = decision_of(last_decision(job))
    ordered = job.service == "call-first" or job.owner.call_first
    if decision == GO_ON or not (decision or (ordered and must_call(job, judgement()))):
        return
    said = "decided to have it back unadjusted" if decision == RETURN else "has not decided yet"
    raise RecordError(
        f"$.steps[{place}].kind",
        f"the owner is to be called before anything is adjusted, and {said}.",
        "Call, and record who decided what and when; then go on.",
    )
