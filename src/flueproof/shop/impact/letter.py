"""The notice letter about what was found, with the readings of the owner's own log whose statement changes."""

from __future__ import annotations

import datetime as dt

from flueproof.impact.duties.duty import Duty, duty_of
from flueproof.impact.duties.notice import NoticeFrame, notice_of
from flueproof.impact.field_log.results import LogResult
from flueproof.papers.notice_letter.letter import NoticeHead, notice_letter_pdf
from flueproof.shop.records.duties.arising import units_of
from flueproof.shop.records.field_logs.found import Found
from flueproof.shop.records.models import Person, Shop
from flueproof.shop.records.people.rights import OWNER


def duty_behind(found: Found, shop: Shop) -> Duty | None:
    """Return what the owner must be told of a finding, None where the analyzer was inside its limits."""
    return duty_of(found.judgement, found.errors, units_of(shop))


def letter_with_log(found: Found, duty: Duty, result: LogResult, by: Person, today: dt.date, shop: Shop) -> bytes:
    """Return the letter as PDF on the shop's paper. Raises: TypesettingError."""
    last_good = dt.date.fromisoformat(result.last_good_on) if result.last_good_on is not None else None
    frame = NoticeFrame(
        phone=shop.phone,
        by=shop.name if by.role == OWNER else f"{by}",
        written_on=today,
        last_good_on=last_good,
        units=units_of(shop),
    )
    owner = found.visit.job.owner
    address = owner.addresses.order_by("id").first()
    head = NoticeHead(
        shop=shop.name,
        shop_lines=(*(str(line) for line in shop.address), *((f"Phone: {shop.phone}",) if shop.phone else ())),
        to=(owner.name, *(address.as_lines() if address is not None else ())),
        written_on=today,
        paper="a4" if shop.paper_size == "a4" else "letter",
        reference=found.visit.job.number,
    )
    return notice_letter_pdf(notice_of(duty, found.record, frame, result), head)
