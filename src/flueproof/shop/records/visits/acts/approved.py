"""An approved quote is the owner's decision too: who, when, the words and the sum are carried to the bench."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.db import transaction

from flueproof.bench.errors import RecordError
from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Job, JobMoment, Person, Quote, Visit
from flueproof.shop.records.money.quotes import AGREED_BEFORE
from flueproof.shop.records.money.quoting import total_in_words
from flueproof.shop.records.visits.acts.deciding import decide
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.next_step import next_step
from flueproof.shop.records.visits.rules.call_first import GO_ON, RETURN, decision_of, last_decision

_LONGEST: Final = 400


@dataclass(frozen=True, slots=True)
class Answered:
    """What the owner answered to a quote, as the bench's decision takes it.

    approved: False for a declined one, which leaves open what becomes of the analyzer; words: quote, sum, by which way
    it was answered, and what was said.
    """

    quote: Quote
    approved: bool
    said_by: str
    said_at: datetime
    words: str


def answered_quote(job: Job) -> Answered | None:
    """Return the owner's answer to the newest quote, None where the bench's last decision is newer or none is there.

    A quote that only passed within what the order allows is no answer: nobody was asked.
    """
    rows = job.quotes.filter(state__in=("approved", "declined"), decided_at__isnull=False)
    quote = rows.exclude(decided_by=AGREED_BEFORE).order_by("-decided_at", "-id").first()
    if quote is None or quote.decided_at is None:
        return None
    before = last_decision(job)
    if before is not None and before.at >= quote.decided_at and decision_of(before) in {GO_ON, RETURN}:
        return None
    said = f" {quote.decision_words.strip()}" if quote.decision_words.strip() else ""
    words = f"Quote {quote.number}, {total_in_words(quote)}, {quote.state} {_way(quote)}.{said}"
    approved = quote.state == "approved"
    return Answered(quote, approved, quote.decided_by, quote.decided_at, words[:_LONGEST])


def take_over(visit: Visit, by: Person, now: datetime) -> JobMoment | None:
    """Keep an approved quote as the owner's decision to go on; None where there is none that is not kept already.

    Raises: RecordError, MoveRefusedError; nothing is written then.
    """
    with transaction.atomic():
        job: Job = Job.objects.select_for_update().get(pk=visit.job_id)
        found = answered_quote(job)
        if found is None or not found.approved:
            return None
        return decide(visit, GO_ON, found.said_by, found.said_at, found.words, by, now)


def carry_approval(quote: Quote, by: Person, now: datetime) -> JobMoment | None:
    """Take over an approval that a person of the shop has just kept, where the bench waits for the owner.

    What the record cannot take stays for the bench's own page; the approval itself is kept in any case.
    """
    visit = (
        Visit.objects.filter(job=quote.job_id).select_related("job__owner", "job__analyzer").order_by("-number").first()
    )
    if visit is None or not waits_for_owner(visit, now):
        return None
    try:
        return take_over(visit, by, now)
    except (RecordError, MoveRefusedError):
        return None


def waits_for_owner(visit: Visit, now: datetime) -> bool:
    """Return True while the next thing at the bench is to call the owner."""
    return next_step(judged(visit), visit.job, now).kind == "call-owner"


def _way(quote: Quote) -> str:
    row = quote.history.filter(state=quote.state).order_by("history_id").first()
    by = getattr(row, "history_user", None)
    return f"on the phone or at the counter, kept by {by}" if by is not None else "by the link in the e-mail"
