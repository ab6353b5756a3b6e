"""What the placeholders of a letter stand for, and to whom it goes: read from the rows it is about."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.utils import timezone

from flueproof.papers.box_slip.packing_list import caution_words
from flueproof.papers.due import date_in_words
from flueproof.shop.records.models import Job, Loan, Owner, OwnerQuestion, Quote, ServiceRequest, Shop
from flueproof.shop.records.money.amounts import in_words, line_sum, sum_of


@dataclass(frozen=True, slots=True)
class About:
    """The rows that a letter is about; what one of them leads to is filled in by `about`."""

    job: Job | None = None
    request: ServiceRequest | None = None
    owner: Owner | None = None
    quote: Quote | None = None
    question: OwnerQuestion | None = None
    loan: Loan | None = None


@dataclass(frozen=True, slots=True)
class Recipient:
    """To whom a letter goes; address: "" when none is on file."""

    address: str
    person: str


def about(rows: About) -> About:
    """Return the rows with those they lead to: a question's job, a job's owner, a request's owner."""
    source = rows.question or rows.quote or rows.loan
    job = rows.job or (source.job if source is not None else None)
    owner = rows.owner
    for one in (rows.loan, job, rows.request):
        owner = owner or (one.owner if one is not None else None)
    if owner is not None and owner.merged_into is not None:
        owner = owner.merged_into
    return About(job, rows.request, owner, rows.quote, rows.question, rows.loan)


def recipient(rows: About, to: str = "") -> Recipient:
    """Return to whom a letter about these rows goes.

    An address that was given; else that of the request, or of the request that the job came from; else the first person
    of the owner with an e-mail address.
    """
    request = rows.request or _request_of(rows.job)
    firm = rows.owner.name if rows.owner is not None else (request.firm if request is not None else "")
    if request is not None and request.email and to in {"", request.email}:
        return Recipient(request.email, request.contact or firm)
    contacts = list(rows.owner.contacts.exclude(email="").order_by("id")) if rows.owner is not None else []
    for contact in contacts:
        if to in {"", contact.email}:
            return Recipient(contact.email, contact.name)
    return Recipient(to, (request.contact if request is not None else "") or firm)


def values_of(rows: About, who: Recipient, shop: Shop, link: str = "", until: datetime | None = None) -> dict[str, str]:
    """Return the value of every placeholder that these rows can fill; the others are left out."""
    request = rows.request
    values = {
        "person": who.person or "there",
        "owner": rows.owner.name if rows.owner is not None else (request.firm if request is not None else ""),
        "shop": shop.name,
        "shop_phone": shop.phone,
        "shop_email": shop.email,
        "shop_address": "\n".join(str(line) for line in shop.address),
        "link": link,
        "until": day_words(until),
    }
    if rows.job is not None:
        values |= _of_job(rows.job)
    if request is not None:
        values |= _of_request(request)
    if rows.question is not None:
        values |= _of_question(rows.question)
    if rows.quote is not None:
        values |= quote_words(rows.quote)
    if rows.loan is not None:
        values |= {"unit": rows.loan.unit.name, "back_on": day_words(rows.loan.until)}
    return values


def day_words(day: date | datetime | None) -> str:
    """Return "25 November 2026" (of a moment its day in the zone in force), "" for none."""
    if day is None:
        return ""
    return date_in_words(timezone.localtime(day).date() if isinstance(day, datetime) else day)


def analyzer_words(make: str, model: str, serial: str) -> str:
    """Return make, model and serial as one reads them; a model that begins with the make names it once."""
    named = model if model.lower().startswith(make.lower()) else f"{make} {model}".strip()
    return f"{named or 'analyzer'}, serial {serial}" if serial else named or "analyzer"


def quote_words(quote: Quote) -> dict[str, str]:
    """Return number, lines, total and last day of a quote in words."""
    lines = list(quote.lines.all())
    listed = [
        f"- {_counted(line.count, line.words)}: {_money(line_sum(line.count, line.price), quote)}" for line in lines
    ]
    return {
        "quote": quote.number,
        "work": quote.words,
        "lines": "\n".join(listed),
        "total": _money(sum_of(lines), quote),
        "valid": day_words(quote.valid_until),
    }


def _money(amount: Decimal, quote: Quote) -> str:
    return in_words(amount, quote.currency)


def _counted(count: Decimal, words: str) -> str:
    return words if count == 1 else f"{count.normalize():f} × {words}"


def _request_of(job: Job | None) -> ServiceRequest | None:
    asked: Any = getattr(job, "requested", None) if job is not None else None
    found: ServiceRequest | None = asked.request if asked is not None else None
    return found


def _of_job(job: Job) -> dict[str, str]:
    unit, box = job.analyzer, job.shipments.exclude(way="loan").order_by("-id").first()
    return {
        "job": job.number,
        "analyzer": analyzer_words(unit.make, unit.model, unit.serial),
        "service": job.get_service_display(),
        "promised": day_words(job.promised_on),
        "way_back": job.return_carrier,
        "payment": "It leaves as soon as the bill is paid." if job.payment_held else "",
        "carrier": box.carrier if box is not None else "",
        "tracking": box.tracking if box is not None else "",
    }


def _of_request(request: ServiceRequest) -> dict[str, str]:
    rows = list(request.analyzers.order_by("id"))
    return {
        "request": request.code,
        "analyzers": "\n".join(f"- {analyzer_words(row.make, row.model, row.serial)}" for row in rows),
        "slips": "\n".join(f"- {row.slip}: {analyzer_words(row.make, row.model, row.serial)}" for row in rows),
        "batteries": caution_words("batteries"),
    }


def _of_question(question: OwnerQuestion) -> dict[str, str]:
    return {
        "about": question.subject,
        "question": question.words,
        "choices": "\n".join(f"- {choice}" for choice in question.choices),
    }
