"""Whether a box may leave: one rule for the carrier and for the hand at the counter."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from flueproof.shop.records.jobs.moving import MoveRefusedError, note_moment
from flueproof.shop.records.models import Job, Person
from flueproof.shop.records.money.quoting import awaited_quotes
from flueproof.shop.records.returning.pack_out import Packing, packing_of
from flueproof.shop.records.returning.packing import TAG
from flueproof.shop.records.returning.paying import waits_for_money
from flueproof.shop.records.returning.whereabouts import settle_as_found

LEFT_ANYWAY: Final = "left all the same"


@dataclass(frozen=True, slots=True)
class Obstacle:
    """What stands against leaving. safe: a person may let it leave all the same, with a written reason."""

    code: str
    words: str
    safe: bool = True


def obstacles(job: Job) -> list[Obstacle]:
    """Return what stands against a job's box leaving now, the gravest first; empty when it may leave."""
    packing = packing_of(job)
    found = [*_of_the_analyzer(job), *_of_the_tag(packing)]
    if not packing.done:
        found.append(Obstacle("pack-out", "The pack-out is not finished."))
    if waits_for_money(job):
        found.append(Obstacle("payment", "It goes back only when it is paid, and nobody noted that."))
    found += [
        Obstacle("question", f"An answer is awaited: {question.words[:120]}")
        for question in job.questions.filter(state="open").order_by("id")
    ]
    found += [Obstacle("quote", f"Quote {quote.number} is out and not answered.") for quote in awaited_quotes(job)]
    return found


def refuse_to_leave(job: Job, why: str, by: Person, now: datetime) -> None:
    """Let the box leave, or refuse. What is safe may be overridden by a written reason, which is kept with the job.

    Call it inside the transaction that moves the job. Raises: MoveRefusedError.
    """
    against = obstacles(job)
    grave = [one.words for one in against if not one.safe]
    if grave:
        raise MoveRefusedError(" ".join(grave).rstrip("."))
    if against and not why.strip():
        said = " ".join(one.words for one in against)
        raise MoveRefusedError(f"{said} Settle that first, or write why it leaves all the same")
    if against:
        said = " ".join(one.words for one in against)
        note_moment(job, LEFT_ANYWAY, by, now, text=f"{why.strip()} ({said})")
    settle_as_found(job, by)


def _of_the_analyzer(job: Job) -> list[Obstacle]:
    if job.analyzer.whereabouts == "stolen":
        words = "This analyzer is reported stolen. Nobody gets it before that is cleared on its report."
        return [Obstacle("stolen", words, safe=False)]
    if job.analyzer.whereabouts == "lost":
        words = "This analyzer is reported lost. Note on its report whose it is now."
        return [Obstacle("lost", words, safe=False)]
    return []


def _of_the_tag(packing: Packing) -> list[Obstacle]:
    line = next(one for one in packing.lines if one.check.name == TAG)
    if line.settled:
        return []
    return [Obstacle(TAG, f"The DO NOT USE tag must be tied on, ticked in the pack-out. {line.words}", safe=False)]
