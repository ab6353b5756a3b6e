"""The notice as a letter: plain data from the impact room's notice, and its PDF."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, Literal

from flueproof.papers.due import date_in_words
from flueproof.papers.printable import printable
from flueproof.papers.typesetting import typeset, typeset_pictures

if TYPE_CHECKING:
    from flueproof.impact.duties.notice import Notice

_TWO = re.compile(r"\b(C|N|S)?O2\b")
TEMPLATE = "notice.typ"
TABLE_HEAD = ("Date", "Your site", "What became of it", "Reading")


@dataclass(frozen=True, slots=True)
class NoticeHead:
    """What stands around the notice.

    shop, shop_lines: name, address and phone of the shop; to: the owner's name and address, one line an item;
    written_on: day; paper: "a4" or "letter"; reference: the shop's own file number, if it has one.
    """

    shop: str
    shop_lines: tuple[str, ...]
    to: tuple[str, ...]
    written_on: date
    paper: Literal["a4", "letter"] = "letter"
    reference: str = ""


def notice_letter_content(notice: Notice, head: NoticeHead) -> dict[str, Any]:
    """Return the letter as plain data.

    Source: own wording.
    """
    return {
        "paper": "a4" if head.paper == "a4" else "us-letter",
        "shop": printable(head.shop, 100),
        "shop_lines": [printable(line, 100) for line in head.shop_lines],
        "to": [printable(line, 100) for line in head.to],
        "date": date_in_words(head.written_on),
        "reference": printable(head.reference, 60) if head.reference else "",
        "subject": printable(_formulas(notice.subject), 200),
        "opening": notice.opening,
        "findings": [_formulas(line) for line in notice.findings],
        "warning": notice.warning,
        "meaning": [_formulas(line) for line in (*notice.meaning, notice.time)],
        "changed_head": notice.changed_head,
        "table_head": list(TABLE_HEAD),
        "changed": [
            [printable(cell, 120) if cell else "" for cell in (_day(day), site, what, _formulas(said))]
            for day, site, what, said in notice.changed
        ],
        "left_out": _left_out(notice.left_out),
        "limits": [_formulas(line) for line in notice.limits],
        "courses": notice.courses,
        "rule": notice.rule,
        "call": notice.call,
        "by": printable(notice.by, 80),
    }


def notice_letter_pdf(notice: Notice, head: NoticeHead) -> bytes:
    """Return the letter as PDF, on A4 or Letter as the head says.

    Raises: TypesettingError.
    Source: own wording.
    """
    return typeset(TEMPLATE, notice_letter_content(notice, head))


def notice_letter_pictures(notice: Notice, head: NoticeHead) -> tuple[bytes, ...]:
    """Return the pages of the letter as pictures (PNG), to be looked at before it goes out.

    Raises: TypesettingError.
    Source: common practice, no source.
    """
    return typeset_pictures(TEMPLATE, notice_letter_content(notice, head))


def _formulas(text: str) -> str:
    """Chemical formulas as printed; never used on what the owner wrote."""
    return _TWO.sub(lambda found: f"{found[1] or ''}O\N{SUBSCRIPT TWO}", text)


def _day(text: str) -> str:
    try:
        return date_in_words(date.fromisoformat(text))
    except ValueError:
        return text


def _left_out(count: int) -> str:
    return f"{count} more readings stand in the list that comes with this letter." if count else ""
