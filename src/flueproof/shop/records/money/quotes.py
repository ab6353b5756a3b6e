"""A quote is sent, and decided exactly once: by its link, on the phone, by what was agreed before, or by nobody."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from typing import Any, Final

from django.db import transaction

from flueproof.shop.records.jobs.holding import held_from
from flueproof.shop.records.jobs.moving import move_job, note_moment, states_after
from flueproof.shop.records.mailing.facts import day_words
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Job, Letter, Person, Quote, Shop
from flueproof.shop.records.money.amounts import in_words
from flueproof.shop.records.money.quoting import (
    QuoteError,
    is_late,
    locked,
    tell_job,
    today,
    total_in_words,
    total_of,
    valid_until,
    withdraw_links,
)

_WAITS: Final = "the owner's answer to quote "
REMINDED: Final = "reminded of a quote"
AGREED_BEFORE: Final = "agreed with the order"


class QuoteDecidedError(QuoteError):
    """Somebody decided otherwise before; `quote` is as it stands."""

    def __init__(self, message: str, quote: Quote) -> None:
        super().__init__(message)
        self.quote = quote


def waits_for(quote: Quote) -> str:
    """Return what stands on the tag of a job whose quote is out."""
    return f"{_WAITS}{quote.number}"


def send_quote(quote: Quote, by: Person, now: datetime) -> Quote:
    """Send a draft to its owner and hold the job until it is answered; a sent one stays as it is.

    Where there is no address no letter goes out (see letters_of): read it on the phone. Raises: QuoteError.
    """
    with transaction.atomic():
        row = locked(quote)
        if row.state == "sent":
            return row
        if row.state != "draft":
            raise QuoteError(f"{row.number} is {row.get_state_display()}; write a new one.")
        if not row.job.is_open:
            raise QuoteError(f"{row.job.number} is closed; nobody needs to decide any more.")
        row.state, row.sent_at, row.valid_until = "sent", now, valid_until(Shop.here(), now)
        _save(row, by)
        tell_job(row, f"sent, {total_in_words(row)}, stands until {day_words(row.valid_until)}", by, now)
        if "held" in states_after(row.job.state):
            move_job(row.job, "held", by, now, why=f"quote {row.number} is out", waits_for=waits_for(row))
        write_letter("quote", job=row.job, quote=row, by=by, now=now)
    return row


def remind(quote: Quote, by: Person | None, now: datetime) -> bool:
    """Write once more about a quote that nobody answered; return whether a letter went out. Once a day at most."""
    with transaction.atomic():
        row = locked(quote)
        last = row.job.moments.filter(what=REMINDED, text=row.number).order_by("-id").first()
        told_today = last is not None and today(last.at) == today(now)
        if row.state != "sent" or is_late(row, now) or told_today:
            return False
        withdraw_links(row, now)
        if write_letter("quote", job=row.job, quote=row, by=by, now=now) is None:
            return False
        note_moment(row.job, REMINDED, by, now, text=row.number)
    return True


def unanswered(now: datetime) -> list[Quote]:
    """Return the sent quotes for which a reminder is due: half of their time is over and none went out yet."""
    due = []
    for quote in Quote.objects.filter(state="sent").select_related("job", "job__owner").order_by("id"):
        if quote.sent_at is None or quote.valid_until is None or is_late(quote, now):
            continue
        half = today(quote.sent_at) + (quote.valid_until - today(quote.sent_at)) / 2
        if today(now) >= half and not quote.job.moments.filter(what=REMINDED, text=quote.number).exists():
            due.append(quote)
    return due


def approve(quote: Quote, by_words: str, words: str, now: datetime, by: Person | None = None) -> Quote:
    """Keep that the owner approved; said again it changes nothing.

    by_words: who approved; words: what was said; by: the person of the shop who took the call, None by link.
    Raises: QuoteDecidedError (declined, replaced, expired), QuoteError (not sent, nobody named).
    """
    return _decided(quote, "approved", by_words, words, now, by)


def decline(quote: Quote, by_words: str, words: str, now: datetime, by: Person | None = None) -> Quote:
    """Keep that the owner declined; said again it changes nothing. Raises: as approve()."""
    return _decided(quote, "declined", by_words, words, now, by)


def room_left(job: Job, but: Quote | None = None) -> Decimal | None:
    """Return what may still be spent on a job without asking, None where nothing was agreed.

    What was approved already counts, however it was approved.
    """
    if job.spend_up_to is None:
        return None
    approved = job.quotes.filter(state="approved").exclude(pk=but.pk if but else None)
    return Decimal(job.spend_up_to) - sum((total_of(one) for one in approved), Decimal(0))


def passes(quote: Quote) -> bool:
    """Return True where the owner agreed to this much with the order, in the currency of the shop."""
    left = room_left(quote.job, quote)
    return left is not None and quote.currency == Shop.here().currency and total_of(quote) <= left


def let_pass(quote: Quote, by: Person, now: datetime) -> Quote:
    """Approve a draft that stays within what the owner agreed to with the order, with a note; no letter is needed.

    Raises: QuoteError.
    """
    with transaction.atomic():
        Job.objects.select_for_update().get(pk=quote.job_id)
        row = locked(quote)
        if row.state == "approved":
            return row
        if row.state != "draft":
            raise QuoteError(f"{row.number} is {row.get_state_display()}; only one that was not sent can pass.")
        if not passes(row):
            raise QuoteError(f"{row.number} is more than the owner agreed to spend without being asked. Send it.")
        agreed = in_words(row.job.spend_up_to or Decimal(0), row.currency)
        row.state, row.decided_at, row.decided_by = "approved", now, AGREED_BEFORE
        row.decision_words = f"The order says: repair up to {agreed}."
        _save(row, by)
        tell_job(row, f"passes: {total_in_words(row)} of {agreed} that the order allows", by, now)
    return row


def expire(now: datetime, by: Person | None = None) -> list[Quote]:
    """Let the quotes end whose day is over; return them. The jobs stay held: somebody decides what comes next."""
    rows = Quote.objects.filter(state="sent").select_related("job").order_by("id")
    return [row for one in rows if is_late(one, now) and (row := _expired(one, now, by)) is not None]


def letters_of(quote: Quote) -> list[Letter]:
    """Return the e-mails that went out about the job's quotes, the newest first."""
    return list(quote.job.letters.filter(kind="quote").order_by("-id")[:5])


def _decided(quote: Quote, to: str, by_words: str, words: str, now: datetime, by: Person | None) -> Quote:
    if not by_words.strip():
        raise QuoteError("Say who decided: the name is kept with the quote.")
    late = None
    with transaction.atomic():
        row = locked(quote)
        if row.state == to:
            return row
        if row.state == "sent" and is_late(row, now) and by is None:
            late = _expired(row, now, None)
        elif row.state not in {"sent", "expired"} or (row.state == "expired" and by is None):
            raise _cannot(row)
        else:
            _keep(row, to, by_words, words, now, by)
    if late is not None:  # kept, though the answer is refused
        raise _cannot(late)
    return row


def _keep(row: Quote, to: str, by_words: str, words: str, now: datetime, by: Person | None) -> None:
    row.state, row.decided_at = to, now
    row.decided_by, row.decision_words = by_words.strip()[:120], words.strip()
    _save(row, by)
    withdraw_links(row, now)
    said = f": {row.decision_words}" if row.decision_words else ""
    how = "on the phone or at the counter" if by is not None else "by the link in the e-mail"
    tell_job(row, f"{to} by {row.decided_by} {how}{said}", by, now)
    job = Job.objects.get(pk=row.job_id)
    if job.state == "held" and job.waits_for == waits_for(row):
        move_job(job, _where_to(job), by, now, why=f"quote {row.number} {to} by {row.decided_by}")
    if to == "approved" and by is not None:
        from flueproof.shop.records.visits.acts.approved import carry_approval  # noqa: PLC0415 -- the bench reads quotes

        carry_approval(row, by, now)


def _where_to(job: Job) -> str:
    before = held_from(job)
    return before if before in states_after("held") else "arrived"


def _expired(quote: Quote, now: datetime, by: Person | None) -> Quote | None:
    with transaction.atomic():
        row = locked(quote)
        if row.state != "sent":
            return None
        row.state = "expired"
        _save(row, by)
        withdraw_links(row, now)
        tell_job(row, "not answered in time", by, now)
    return row


def _cannot(row: Quote) -> QuoteError:
    if row.state == "draft":
        return QuoteError(f"{row.number} was not sent; send it first, or let it pass.")
    if row.state == "expired":
        until = day_words(row.valid_until) or "its day"
        return QuoteDecidedError(f"{row.number} stood until {until}. Ask the shop for a new one.", row)
    if row.state == "replaced":
        new = row.replaced_by.order_by("-id").first()
        named = f" by {new.number}" if new is not None else ""
        return QuoteDecidedError(f"{row.number} was replaced{named}; the newer one counts.", row)
    return QuoteDecidedError(f"{row.number} is {row.get_state_display()} already, by {row.decided_by}.", row)


def _save(row: Any, by: Person | None) -> None:
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save()
