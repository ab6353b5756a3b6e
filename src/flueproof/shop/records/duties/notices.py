"""The notice to an owner, from the facts that a duty keeps: the words of page, e-mail and letter."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass
from typing import Any, Final

from django.utils import timezone

from flueproof.bench.errors import BenchError
from flueproof.bench.record.record import Record
from flueproof.impact.duties.duty import Duty as Found
from flueproof.impact.duties.notice import Notice, NoticeFrame, notice_of, notice_text
from flueproof.impact.duties.sizes import Size
from flueproof.impact.statements.wording import ONE_RULE
from flueproof.papers.notice_letter.letter import NoticeHead, notice_letter_pdf
from flueproof.shop.records.duties.arising import today_of, units_of
from flueproof.shop.records.duties.telling import DutyError
from flueproof.shop.records.models import Duty, Paper, Person, Shop
from flueproof.shop.records.visits.projection import record_of

GOOD: Final = "ready-to-sign"
"""Outcome of a paper that says everything was inside its limits when the analyzer left."""
_NUMBERS: Final = ("value", "low", "high")


@dataclass(frozen=True, slots=True)
class Words:
    """What an owner reads: subject and text of an e-mail."""

    subject: str
    text: str


def found_of(facts: dict[str, Any]) -> Found:
    """Return the core's duty again from the facts that were kept."""
    return Found(
        kind=facts["kind"],
        same_day=facts["same_day"],
        do_not_use=facts["do_not_use"],
        headline=facts["headline"],
        why=facts["why"],
        sizes=tuple(_size(one) for one in facts["sizes"]),
        further=tuple(facts["further"]),
    )


def _size(one: dict[str, Any]) -> Size:
    plain: dict[str, Any] = {
        key: math.nan if key in _NUMBERS and value is None else value for key, value in one.items()
    }
    return Size(**plain)


def notice_for(duty: Duty, by: Person | None, now: dt.datetime) -> Notice:
    """Return the notice about a duty. Raises: DutyError where the bench record cannot be read any more."""
    shop = Shop.here()
    frame = NoticeFrame(
        phone=shop.phone,
        by=str(by) if by is not None else shop.name,
        written_on=today_of(now),
        last_good_on=last_good_on(duty),
        units=units_of(shop),
    )
    return notice_of(found_of(duty.facts), _record(duty), frame)


def suggested(duty: Duty, by: Person | None, now: dt.datetime) -> Words:
    """Return the suggested e-mail about a duty. Raises: DutyError."""
    notice = notice_for(duty, by, now)
    return Words(notice.subject, notice_text(notice).split("\n", 1)[1].strip())


def letter_pdf(duty: Duty, by: Person | None, now: dt.datetime) -> bytes:
    """Return the notice as a letter on the shop's paper. Raises: DutyError, TypesettingError."""
    shop = Shop.here()
    head = NoticeHead(
        shop=shop.name,
        shop_lines=(*(str(line) for line in shop.address), *((f"Phone: {shop.phone}",) if shop.phone else ())),
        to=(duty.owner.name, *postal_lines(duty)),
        written_on=today_of(now),
        paper="a4" if shop.paper_size == "a4" else "letter",
        reference=duty.visit.job.number,
    )
    return notice_letter_pdf(notice_for(duty, by, now), head)


def postal_lines(duty: Duty) -> tuple[str, ...]:
    """Return the owner's first address as lines, nothing where none is on file."""
    address = duty.owner.addresses.order_by("id").first()
    return tuple(address.as_lines()) if address is not None else ()


def last_good_on(duty: Duty) -> dt.date | None:
    """Return the last day on which this analyzer was known good before the visit: its last paper that says so.

    A paper that does not hold any more, since a reference it rests on was wrong, says nothing.
    """
    earlier = Paper.objects.filter(
        job__analyzer=duty.analyzer, visit__opened_at__lt=duty.visit.opened_at, outcome=GOOD, amended_by=None
    )
    holding = earlier.exclude(visit=duty.visit).exclude(visit__recomputed__danger__gt=0)
    paper = holding.order_by("-issued_on", "-id").first()
    return paper.issued_on if paper is not None else None


def with_rule(words: str) -> str:
    """Return words to an owner with the one rule, which stands on every paper, whatever else was changed."""
    return words.strip() if ONE_RULE in words else f"{words.strip()}\n\n{ONE_RULE}"


def found_on(duty: Duty) -> dt.date:
    """Return the shop's day on which the visit began."""
    return timezone.localtime(duty.visit.opened_at).date()


def _record(duty: Duty) -> Record:
    try:
        record = record_of(duty.visit)
    except BenchError as error:
        raise DutyError(f"The bench record of this visit cannot be read: {error}") from error
    if record is None:
        raise DutyError("Nothing was measured in this visit: there is nothing to tell.")
    return record
