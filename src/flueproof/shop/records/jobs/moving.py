"""Moving a job from state to state: kept as a moment, told to other programs, clock stopped and started."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from django.db import transaction

from flueproof.shop.records.access.outbox import tell
from flueproof.shop.records.models import Job, JobMoment, Person
from flueproof.shop.records.promises.following import follow_move

_MOVES: Final[dict[str, frozenset[str]]] = {
    "requested": frozenset({"arrived", "dropped"}),
    "arrived": frozenset({"bench", "held", "parts", "to-return", "sent-on", "dropped"}),
    "bench": frozenset({"arrived", "held", "parts", "to-sign", "to-return", "sent-on"}),
    "held": frozenset({"arrived", "bench", "parts", "to-sign", "to-return", "sent-on"}),
    "parts": frozenset({"arrived", "bench", "held", "to-return"}),
    "to-sign": frozenset({"bench", "held", "to-return"}),
    "to-return": frozenset({"returned", "shipped", "bench", "held"}),
    "sent-on": frozenset({"arrived", "bench", "held", "to-return"}),
    "shipped": frozenset({"returned", "to-return"}),
    "returned": frozenset(),
    "dropped": frozenset({"requested"}),
}
_CLOCK_STANDS: Final = frozenset({"held", "parts", "sent-on"})


class MoveRefusedError(ValueError):
    """A job that cannot go from where it is to where it should."""


def states_after(state: str) -> frozenset[str]:
    """Return the states that a job in this state can go to."""
    return _MOVES[state]


def move_job(job: Job, to: str, by: Person | None, now: datetime, *, why: str = "", waits_for: str = "") -> Job:
    """Bring a job into another state and return it; already there is no change and no moment.

    why: kept with the moment; waits_for: shown on the job's tag while it waits.
    Raises: MoveRefusedError, with nothing written.
    """
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().get(pk=job.pk)
        if row.state == to:
            return row
        if to not in _MOVES[row.state]:
            words = dict(Job.STATES)
            raise MoveRefusedError(f"{row.number} is {words[row.state]!r}; from there it cannot become {words[to]!r}")
        before, row.state, row.waits_for = row.state, to, waits_for
        row.clock_stopped_at = (row.clock_stopped_at or now) if to in _CLOCK_STANDS else None
        row.closed_at = now if to in {"returned", "dropped"} else None
        row.save()
        note_moment(row, "state", by, now, text=why, before=before, after=to)
        tell("job-state-changed", {"job": row.number, "from": before, "to": to, "why": why}, now)
        follow_move(row, before, by, now)
    return row


def note_moment(
    job: Job, what: str, by: Person | None, now: datetime, *, text: str = "", before: str = "", after: str = ""
) -> JobMoment:
    """Keep a moment of a job for ever and return it."""
    return JobMoment.objects.create(
        job=job, what=what, by=by, at=now, text=text, state_before=before, state_after=after
    )


def add_note(job: Job, by: Person, now: datetime, text: str) -> JobMoment:
    """Keep a person's own words with a job and return the moment; the same words sent twice in a row are one note."""
    words = text.strip()
    with transaction.atomic():
        Job.objects.select_for_update().get(pk=job.pk)
        last = job.moments.order_by("-id").first()
        if last is not None and (last.what, last.text, last.by_id) == ("note", words, by.pk):
            return last
        return note_moment(job, "note", by, now, text=words)
