"""Quotes: written from the price list, changed only by a new one that names the old, sent, and decided exactly once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any, Final

from django.db import transaction
from django.utils import timezone

from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.keeping.numbering import next_number
from flueproof.shop.records.mailing import links
from flueproof.shop.records.models import Job, Person, PriceItem, Quote, QuoteLine, Shop
from flueproof.shop.records.money.amounts import AmountError, checked_count, checked_price, in_words, sum_of

PREFIX: Final = "Q"
MOST_LINES: Final = 40
CHANGED: Final = "quote"  # what of a JobMoment about a quote


class QuoteError(ValueError):
    """What cannot be done with a quote as it stands; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A line as it is wanted; the price stands as it was when it was written, whatever the list says later."""

    words: str
    price: Decimal
    count: Decimal = Decimal(1)
    item: PriceItem | None = None


def total_of(quote: Quote) -> Decimal:
    """Return what a quote comes to."""
    return sum_of(quote.lines.all())


def total_in_words(quote: Quote) -> str:
    """Return what it comes to with its currency."""
    return in_words(total_of(quote), quote.currency)


def write_quote(job: Job, lines: Sequence[Wanted], words: str, by: Person, now: datetime) -> Quote:
    """Return a new quote of an open job, not sent. Raises: QuoteError, with nothing written."""
    with transaction.atomic():
        row = Job.objects.select_for_update().get(pk=job.pk)
        if not row.is_open:
            raise QuoteError(f"{row.number} is closed; a quote belongs to a job that is open.")
        return _written(row, _checked(lines), words, by, now, None)


def change_quote(quote: Quote, lines: Sequence[Wanted], words: str, by: Person, now: datetime) -> Quote:
    """Return the quote as changed: a draft itself, a sent one replaced by a new draft that names it.

    The links of a replaced quote open nothing any more. Raises: QuoteError, with nothing written.
    """
    checked = _checked(lines)
    with transaction.atomic():
        row = locked(quote)
        if row.state == "draft":
            for line in row.lines.all():
                _by(line, by).delete()
            row.words = words.strip()
            _by(row, by).save()
            _add_lines(row, checked, by)
            return row
        if row.state not in {"sent", "declined", "expired"}:
            raise QuoteError(f"{row.number} is {row.get_state_display()}; it is not changed any more.")
        if row.state == "sent":
            row.state = "replaced"
            _by(row, by).save()
            withdraw_links(row, now)
        return _written(row.job, checked, words, by, now, row)


def withdraw_links(quote: Quote, now: datetime) -> None:
    """Let the links of a quote open nothing any more."""
    links.withdraw_links(now, quote=quote)


def standing_quote(job: Job) -> Quote | None:
    """Return the newest quote of a job that was not replaced."""
    return job.quotes.exclude(state="replaced").order_by("-id").first()


def awaited_quotes(job: Job) -> list[Quote]:
    """Return the sent quotes of a job that nobody answered."""
    return list(job.quotes.filter(state="sent").order_by("id"))


def is_late(quote: Quote, now: datetime) -> bool:
    """Return True when the day until which a quote stands is over."""
    return quote.valid_until is not None and today(now) > quote.valid_until


def today(now: datetime) -> date:
    """Return the day at the shop."""
    return timezone.localtime(now).date()


def locked(quote: Quote) -> Quote:
    """Return the quote's row, held until the transaction ends."""
    row: Quote = Quote.objects.select_for_update().select_related("job").get(pk=quote.pk)
    return row


def valid_until(shop: Shop, now: datetime) -> date:
    """Return until when a quote sent now stands."""
    return today(now) + timedelta(days=max(int(shop.quote_valid_days), 1))


def tell_job(quote: Quote, text: str, by: Person | None, now: datetime) -> None:
    """Keep with the job what happened to its quote."""
    note_moment(quote.job, CHANGED, by, now, text=f"{quote.number}: {text}"[:2000])


def _checked(lines: Sequence[Wanted]) -> list[Wanted]:
    if not lines:
        raise QuoteError("A quote has one line at least.")
    if len(lines) > MOST_LINES:
        raise QuoteError(f"A quote has {MOST_LINES} lines at most.")
    checked = []
    for place, line in enumerate(lines, 1):
        try:
            price, count = checked_price(line.price), checked_count(line.count)
        except AmountError as error:
            raise QuoteError(f"Line {place}: {error}") from None
        if not line.words.strip():
            raise QuoteError(f"Line {place}: say what it is for.")
        checked.append(Wanted(line.words.strip()[:200], price, count, line.item))
    return checked


def _written(job: Job, lines: Sequence[Wanted], words: str, by: Person, now: datetime, replaces: Quote | None) -> Quote:
    quote = Quote(
        number=next_number(PREFIX, today(now).year),
        job=job,
        currency=Shop.here().currency,
        words=words.strip(),
        replaces=replaces,
        made_at=now,
    )
    _by(quote, by).save()
    _add_lines(quote, lines, by)
    instead = f", in place of {replaces.number}" if replaces is not None else ""
    tell_job(quote, f"written, {total_in_words(quote)}{instead}", by, now)
    return quote


def _add_lines(quote: Quote, lines: Sequence[Wanted], by: Person) -> None:
    for line in lines:
        row = QuoteLine(quote=quote, item=line.item, words=line.words, count=line.count, price=line.price)
        _by(row, by).save()


def _by(row: Any, by: Person | None) -> Any:
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    return row
