"""Marking the letter that came back: by its Message-ID, once, without a person."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from flueproof.shop.records.mailing.returned.report import Report, read_report
from flueproof.shop.records.mailing.undelivered import bounced
from flueproof.shop.records.models import Letter


@dataclass(frozen=True, slots=True)
class Marked:
    """What came of a message; letter: the one that is marked as come back, None where nothing was changed."""

    letter: Letter | None
    words: str


def mark_returned(raw: bytes, now: datetime) -> Marked:
    """Read a message from the shop's mailbox, and mark the letter that it reports as not delivered.

    Anything else changes nothing: an answer of a person, a delay, a report about somebody else's e-mail. The same
    report again changes nothing either.
    Raises: ReportError for what is no message.
    """
    report = read_report(raw)
    if report is None:
        return Marked(None, "no delivery report; nothing is marked")
    failed = report.failed
    if failed is None:
        actions = ", ".join(sorted({one.action for one in report.outcomes}))
        return Marked(None, f"the report says {actions}; nothing came back")
    letter = _letter_of(report)
    if letter is None:
        return Marked(None, "the report is about no e-mail of this shop; nothing is marked")
    if letter.state == "bounced":
        return Marked(None, f"“{letter.subject}” to {letter.to} is marked already")
    said = " ".join(part for part in (failed.status, failed.words) if part) or "no reason is told"
    whom = "" if failed.recipient.casefold() in {"", letter.to.casefold()} else f" ({failed.recipient})"
    row = bounced(letter, f"came back later{whom}: {said}", None, now)
    return Marked(row, f"“{row.subject}” to {row.to} is marked as come back: {said}")


def _letter_of(report: Report) -> Letter | None:
    rows = {row.message_id: row for row in Letter.objects.filter(message_id__in=report.message_ids)}
    return next((rows[one] for one in report.message_ids if one in rows), None)
