"""Writing a letter: the words in force, filled in, into the outbox, in the caller's transaction."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from email.utils import make_msgid
from typing import Final

from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.mailing.facts import About, Recipient, about, recipient, values_of
from flueproof.shop.records.mailing.html_letter import html_of
from flueproof.shop.records.mailing.kinds import Kind, kind_named, words_in_force
from flueproof.shop.records.mailing.links import make_link, public_base
from flueproof.shop.records.mailing.seals import seal, without_seals
from flueproof.shop.records.mailing.words import filled_subject, filled_text, one_line, some_lines
from flueproof.shop.records.models import Job, Letter, Loan, Owner, OwnerQuestion, Person, Quote, ServiceRequest, Shop

MOMENT: Final = "letter"
_ASKED_FOR_JUST_NOW: Final = frozenset({"confirm-request", "draft-link"})
_LONGEST_ADDRESS: Final = 254
_SECOND_PRESS: Final = timedelta(minutes=1)
_LINES: Final = frozenset(
    {"shop_address", "missing", "analyzers", "slips", "question", "choices", "work", "lines", "words"}
)


def write_letter(
    kind: str,
    *,
    job: Job | None = None,
    request: ServiceRequest | None = None,
    owner: Owner | None = None,
    quote: Quote | None = None,
    question: OwnerQuestion | None = None,
    loan: Loan | None = None,
    to: str = "",
    by: Person | None = None,
    now: datetime,
    extra: Mapping[str, str] | None = None,
) -> Letter | None:
    """Put an e-mail into the outbox and return it; None where nobody can or wants to be written to.

    extra: values of placeholders that the rows do not give, or other ones (`link`, `missing`, `due` ...). A link that
    the kind needs and `extra` does not bring is made here. Without an address, or where the owner wants no e-mail, the
    job keeps a moment that says so. An address that is none is kept as a letter that was not sent.
    Raises: KeyError for a kind that there is not.
    """
    shape, rows = kind_named(kind), about(About(job, request, owner, quote, question, loan))
    who = recipient(rows, to.strip())
    reason = _why_not(kind, rows, who)
    if reason:
        if rows.job is not None:
            note_moment(rows.job, MOMENT, by, now, text=f"No e-mail “{shape.title}”: {reason}")
        return None
    letter = _written(shape, rows, who, now, extra or {})
    twice = _a_moment_ago(letter, now)
    if twice is not None:
        return twice
    letter.made_by = by
    letter.save()
    if rows.job is not None:
        wrong = f". Not sent: {letter.trouble}" if letter.trouble else ""
        note_moment(rows.job, MOMENT, by, now, text=f"“{letter.subject}” to {letter.to}{wrong}")
    return letter


def demo_words(subject: str, text: str, values: Mapping[str, str]) -> tuple[str, str, str]:
    """Return (subject, text, HTML) of a template with given values: the preview."""
    clean = cleaned(values)
    head, body = filled_subject(subject, clean), filled_text(text, clean)
    return head, body, html_of(head, body, clean.get("shop", ""), clean.get("link", ""))


def cleaned(values: Mapping[str, str]) -> dict[str, str]:
    """Return values as letters take them: without control signs, and what is one line on one line."""
    return {name: some_lines(text) if name in _LINES else one_line(text)[:500] for name, text in values.items()}


def _why_not(kind: str, rows: About, who: Recipient) -> str:
    """Return why nobody is written to, "" when somebody is."""
    if rows.owner is not None and rows.owner.no_letters and kind not in _ASKED_FOR_JUST_NOW:
        return f"{rows.owner} wants no e-mail. Call instead."
    if kind == "due-soon" and (rows.owner is None or not rows.owner.due_agreed):
        return "the owner did not agree to due dates."
    return "" if who.address else "no address is on file. Call instead."


def _a_moment_ago(letter: Letter, now: datetime) -> Letter | None:
    """Return the same letter when it was written less than a minute ago: a second press."""
    same = Letter.objects.filter(kind=letter.kind, to=letter.to, subject=letter.subject, text=letter.text)
    return same.filter(job=letter.job, request=letter.request, made_at__gt=now - _SECOND_PRESS).first()


def _written(shape: Kind, rows: About, who: Recipient, now: datetime, extra: Mapping[str, str]) -> Letter:
    shop = Shop.here()
    link, until = _link_of(shape, rows, now, extra)
    sealed_link = seal(link)
    given = {name: without_seals(str(value)) for name, value in extra.items() if name != "link"}
    rest = {name: without_seals(value) for name, value in values_of(rows, who, shop, "", until).items()}
    values = {**cleaned({**rest, **given}), "link": sealed_link}
    subject, text = (without_seals(words) for words in words_in_force(shape.name))
    head, body = filled_subject(subject, values), filled_text(text, values)
    address, trouble = _address(who.address)
    return Letter(
        kind=shape.name,
        to=address,
        subject=head or shape.title,
        text=body,
        html=html_of(head, body, values["shop"], sealed_link),
        job=rows.job,
        request=rows.request,
        owner=rows.owner,
        made_at=now,
        state="failed" if trouble else "waiting",
        next_try_at=None if trouble else now,
        trouble=trouble,
        message_id=message_id(shop),
    )


def message_id(shop: Shop) -> str:
    """Return a new Message-ID at the shop's own domain (RFC 5322, 3.6.4)."""
    domain = shop.email.rpartition("@")[2]
    return make_msgid(domain=domain if domain.isascii() and domain else "localhost")


def _link_of(shape: Kind, rows: About, now: datetime, extra: Mapping[str, str]) -> tuple[str, datetime | None]:
    """Return the address of the letter's link and its end; "" where there is none or the shop has no public address."""
    given = one_line(str(extra.get("link", "")))
    if given or not shape.link or not public_base():
        until = now + timedelta(days=shape.days) if shape.link else None
        return (given, until) if "://" in given else ("", None)
    target: dict[str, ServiceRequest | OwnerQuestion | Quote | Job | None] = {
        "confirm": rows.request,
        "resume": rows.request,
        "answer": rows.question,
        "quote": rows.quote,
        "follow": rows.job,
    }
    about_row = target[shape.link]
    if about_row is None:
        return "", None
    days = _days(shape, rows, now)
    field = {"confirm": "request", "resume": "request", "answer": "question", "quote": "quote", "follow": "job"}
    made, address = make_link(shape.link, now=now, days=days, **{field[shape.link]: about_row})  # type: ignore[arg-type]
    return address, made.expires_at


def _days(shape: Kind, rows: About, now: datetime) -> int:
    """Return for how many days the link is good: that of a quote as long as the quote stands, its last day included."""
    if shape.link == "quote" and rows.quote is not None and rows.quote.valid_until is not None:
        return max(1, (rows.quote.valid_until - now.date()).days + 1)
    return shape.days


def _address(address: str) -> tuple[str, str]:
    """Return (what is kept as the address, what is wrong with it)."""
    kept = one_line(address)[:_LONGEST_ADDRESS]
    try:
        validate_email(address)
    except ValidationError:
        return kept, f"“{kept}” is no e-mail address"
    if len(address) > _LONGEST_ADDRESS:
        return kept, "this e-mail address is too long"
    return kept, ""
