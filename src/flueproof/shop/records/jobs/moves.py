"""Which moves a person may make with a job from its own page, and what each needs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.db import transaction

from flueproof.shop.records.jobs.moving import MoveRefusedError, move_job, states_after
from flueproof.shop.records.models import Job, Person
from flueproof.shop.records.people.rights import RIGHT_IN_WORDS, may
from flueproof.shop.records.returning.leaving import refuse_to_leave


@dataclass(frozen=True, slots=True)
class Move:
    """A move that is offered: words of the button; needs_reason: it is refused without one; grave: asks twice."""

    to: str
    words: str
    right: str
    needs_reason: bool
    grave: bool = False


_WORDS: Final[dict[str, tuple[str, str]]] = {
    "arrived": ("Put back on the shelf", "change-jobs"),
    "bench": ("Put on the bench", "work-bench"),
    "parts": ("Wait for parts", "change-jobs"),
    "to-sign": ("Ready to sign", "work-bench"),
    "to-return": ("To go back", "change-jobs"),
    "returned": ("Handed out", "change-jobs"),
    "dropped": ("Drop the job", "change-jobs"),
    "requested": ("Take up again", "change-jobs"),
}
# Receiving the box has a form of its own, as have holding and releasing.
_OWN_FORM: Final = {("requested", "arrived")}
_ELSEWHERE: Final = frozenset({"held", "parts", "sent-on", "shipped"})  # left by the form that says what came of it


def moves_offered(job: Job, person: Person) -> list[Move]:
    """Return the moves this person may make now, in the order of the work."""
    return [
        _move(job, to)
        for to in _WORDS
        if to in states_after(job.state)
        and (job.state, to) not in _OWN_FORM
        and job.state not in _ELSEWHERE
        and may(person, _WORDS[to][1])
    ]


def make_move(job: Job, to: str, by: Person, now: datetime, why: str = "") -> Job:
    """Make one of the offered moves; into the state in which the job is already changes nothing.

    Raises: MoveRefusedError (not offered, not allowed, or the reason is missing), with nothing written.
    """
    if job.state == to:
        return job
    if to not in _WORDS or (job.state, to) in _OWN_FORM or job.state in _ELSEWHERE:
        raise MoveRefusedError(f"{job.number} cannot be moved so from here; use the form on its page")
    move = _move(job, to)
    if not may(by, move.right):
        raise MoveRefusedError(f"Your role may not do this: {RIGHT_IN_WORDS[move.right].lower()}")
    if move.needs_reason and not why.strip():
        raise MoveRefusedError(f'"{move.words}" needs a reason: it is kept with the job')
    with transaction.atomic():
        if to == "returned":
            row = Job.objects.select_for_update().select_related("owner", "analyzer").get(pk=job.pk)
            refuse_to_leave(row, why, by, now)
        return move_job(job, to, by, now, why=why.strip(), waits_for=why.strip() if to == "parts" else "")


def _move(job: Job, to: str) -> Move:
    words, right = _WORDS[to]
    unsigned = to == "to-return" and not job.papers.exists()
    back = (job.state, to) in {("to-return", "bench"), ("to-sign", "bench"), ("bench", "arrived")}
    return Move(
        to,
        "Send back without a paper" if unsigned else words,
        right,
        needs_reason=unsigned or back or to in {"dropped", "parts"},
        grave=to == "dropped" or unsigned,
    )
