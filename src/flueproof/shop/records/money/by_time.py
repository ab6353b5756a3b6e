"""What time brings: reminders of quotes, boxes and loan units, and quotes that end unanswered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from flueproof.shop.records.loans import loan as loans
from flueproof.shop.records.models import Person, Shop
from flueproof.shop.records.money.quotes import expire, remind, unanswered
from flueproof.shop.records.money.quoting import today
from flueproof.shop.records.returning.unclaimed import write_all_unclaimed


@dataclass(frozen=True, slots=True)
class Brought:
    """How many letters were written, and how many quotes ended."""

    letters: int
    ended: int


def bring_what_is_due(now: datetime, by: Person | None = None) -> Brought:
    """End the quotes whose day is over and write every letter that is due; a second call does nothing.

    by: who pressed, None where a clock did.
    """
    ended = len(expire(now, by))
    told = sum(remind(quote, by, now) for quote in unanswered(now))
    told += sum(loans.remind(one, by, now) for one in loans.to_remind(now, today(now)))
    return Brought(told + write_all_unclaimed(by, now, Shop.here()), ended)
