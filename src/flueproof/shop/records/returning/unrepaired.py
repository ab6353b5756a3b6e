"""An analyzer that goes back unrepaired: beyond our access, not worth it, or because nobody answered."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from django.db import transaction

from flueproof.papers.content.outcome import verdict_of
from flueproof.shop.records.jobs.moving import MoveRefusedError, move_job, note_moment, states_after
from flueproof.shop.records.models import Job, Person
from flueproof.shop.records.money.quoting import standing_quote
from flueproof.shop.records.visits.judged import judged

UNREPAIRED: Final = "given up: back unrepaired"
REPAIRED_AFTER_ALL: Final = "mended after all"
_SEPARATOR: Final = "\nOn its tag: "
WHY: Final = (
    ("beyond-our-access", "what is needed lies beyond our access"),
    ("not-worth-repair", "repair is not worth its cost"),
    ("quote-declined", "the owner declined the quote"),
    ("quote-unanswered", "the quote was never answered"),
    ("owner-asked", "the owner wants it back as it is"),
)


def return_unrepaired(job: Job, why: str, words: str, tag: str, by: Person, now: datetime) -> Job:
    """Send a job on its way back without repair, with the words for its do-not-use tag; again changes nothing.

    why: of WHY; words: what was found or said; tag: what stands on the tag, in a sentence for the next hand that
    switches it on. Raises: MoveRefusedError, with nothing written.
    """
    if why not in dict(WHY):
        raise MoveRefusedError("Choose why it goes back unrepaired.")
    if not tag.strip():
        raise MoveRefusedError("Write what stands on the tag: whoever switches it on next must know what is wrong")
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().get(pk=job.pk)
        if tag_words(row):
            return row
        if row.state != "to-return" and "to-return" not in states_after(row.state):
            raise MoveRefusedError(f"{row.number} is {row.get_state_display()!r}; it cannot go back from there")
        said = f"{dict(WHY)[why]}. {words.strip()}".strip()
        note_moment(row, UNREPAIRED, by, now, text=f"{said}{_SEPARATOR}{tag.strip()}")
        return move_job(row, "to-return", by, now, why=f"unrepaired: {said}")


def suggested_why(job: Job) -> str:
    """Return the reason that the records speak for, "" where they speak for none: the verdict, then the last quote."""
    visit = job.visits.order_by("-number").first()
    judgement = judged(visit).judgement if visit is not None else None
    verdict = verdict_of(judgement) if judgement is not None else None
    if verdict is not None and verdict.outcome in dict(WHY):
        return verdict.outcome
    quote = standing_quote(job)
    said = {"declined": "quote-declined", "expired": "quote-unanswered"}
    return said.get(quote.state, "") if quote is not None else ""


def take_back_unrepaired(job: Job, why: str, by: Person, now: datetime) -> None:
    """Note that it is mended after all, so that the tag's words fall away; without such words nothing changes.

    Raises: MoveRefusedError without a reason, or without a certificate that was signed after it was given up.
    """
    if not why.strip():
        raise MoveRefusedError("Say what changed: the tag comes off only for a reason")
    with transaction.atomic():
        row: Job = Job.objects.select_for_update().get(pk=job.pk)
        if not tag_words(row):
            return
        given_up = row.moments.filter(what=UNREPAIRED).order_by("-id").values_list("at", flat=True).first()
        if not row.papers.filter(kind="certificate", signed_at__gt=given_up, amended_by=None).exists():
            raise MoveRefusedError("The tag comes off with a certificate that was signed after the work, not before")
        note_moment(row, REPAIRED_AFTER_ALL, by, now, text=why.strip())


def tag_words(job: Job) -> str:
    """Return what stands on the do-not-use tag of a job that goes back unrepaired, "" where it does not."""
    last = job.moments.filter(what__in=(UNREPAIRED, REPAIRED_AFTER_ALL)).order_by("-id").first()
    if last is None or last.what != UNREPAIRED:
        return ""
    return last.text.partition(_SEPARATOR)[2] or last.text
