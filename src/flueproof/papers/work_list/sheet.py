"""The work list as PDF: a sheet for each person and day, with a box to tick for each line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Final

from flueproof.papers.due import date_in_words
from flueproof.papers.errors import TypesettingError
from flueproof.papers.printable import printable
from flueproof.papers.typesetting import typeset, typeset_pictures

PAPERS: Final = {"letter": "us-letter", "a4": "a4"}


@dataclass(frozen=True, slots=True)
class WorkLine:
    """One line: when it begins ("08:30"), which analyzer, what is done, where, how long, until when it is promised."""

    at: str
    serial: str
    item: str
    words: str
    where: str = ""
    takes: str = ""
    promised: str = ""
    rush: bool = False
    late: bool = False


@dataclass(frozen=True, slots=True)
class WorkPage:
    """What one person does on one day, in order."""

    who: str
    day: date
    lines: Sequence[WorkLine] = field(default_factory=tuple)


@dataclass(frozen=True, slots=True)
class WorkList:
    """The sheets of one print. as_of: when the plan was made and printed, in words; paper: "letter" or "a4"."""

    shop: str
    as_of: str
    on: date
    pages: Sequence[WorkPage]
    paper: str = "letter"


def work_list_content(sheets: WorkList) -> dict[str, Any]:
    """Return what the sheets say as plain data.

    Raises: TypesettingError for no sheet or a paper size that there is not.
    Source: own rule.
    """
    if not sheets.pages:
        raise TypesettingError("a work list needs one person with work at least, got none")
    if sheets.paper not in PAPERS:
        raise TypesettingError(f"paper {sheets.paper!r} is not known; known are {', '.join(PAPERS)}")
    return {
        "paper": PAPERS[sheets.paper],
        "shop": printable(sheets.shop, 100),
        "as_of": printable(sheets.as_of, 120),
        "date": {"year": sheets.on.year, "month": sheets.on.month, "day": sheets.on.day},
        "pages": [
            {
                "who": printable(page.who, 60),
                "day": f"{page.day:%A} {date_in_words(page.day)}",
                "lines": [_line(one) for one in page.lines],
            }
            for page in sheets.pages
        ],
    }


def work_list_pdf(sheets: WorkList) -> bytes:
    """Return the sheets as PDF, a page for each person and day; what does not fit goes on on a further page.

    Raises: TypesettingError.
    Source: common practice, no source.
    """
    return typeset("work_list.typ", work_list_content(sheets))


def work_list_pictures(sheets: WorkList) -> tuple[bytes, ...]:
    """Return the same pages as pictures (PNG), to be looked at on a screen.

    Raises: TypesettingError.
    Source: common practice, no source.
    """
    return typeset_pictures("work_list.typ", work_list_content(sheets))


def _line(one: WorkLine) -> dict[str, Any]:
    return {
        "at": printable(one.at, 10),
        "serial": printable(one.serial, 60),
        "item": printable(one.item, 160),
        "words": printable(one.words, 160),
        "where": printable(one.where, 40),
        "takes": printable(one.takes, 60),
        "promised": printable(one.promised, 40),
        "rush": one.rush,
        "late": one.late,
    }
