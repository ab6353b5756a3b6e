"""The box slip: one page an analyzer, with the code that says whose it is and what was asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Final

from flueproof.papers.box_slip.packing_list import box_cautions, packing_list
from flueproof.papers.due import date_in_words
from flueproof.papers.errors import TypesettingError
from flueproof.papers.labels.code import code_drawing
from flueproof.papers.printable import printable
from flueproof.papers.typesetting import typeset, typeset_pictures

PAPERS: Final = {"letter": "us-letter", "a4": "a4"}
_MOST_EXTRA: Final = 4


@dataclass(frozen=True, slots=True)
class BoxSlip:
    """What one slip says of one analyzer.

    code: for people, such as "K7M4-P2RX"; scanned: the text of the QR code; enclosed: names of the packing list, and
    others in the owner's words; wants: what was ordered, line by line; happened: "dropped; last used on oil".
    """

    code: str
    scanned: str
    request: str
    serial: str
    item: str
    owner: str
    contact: str
    complaint: str
    wants: Sequence[str]
    enclosed: Sequence[str]
    place: int = 1
    places: int = 1
    needed_by: date | None = None
    happened: str = ""


@dataclass(frozen=True, slots=True)
class Destination:
    """Where the box goes: the shop's name, address and phone; paper: "letter" or "a4"."""

    shop: str
    address: Sequence[str]
    phone: str = ""
    email: str = ""
    paper: str = "letter"
    on: date = field(default_factory=lambda: date(2026, 1, 1))


def box_slip_content(slips: Sequence[BoxSlip], to: Destination) -> dict[str, Any]:
    """Return what the slips say as plain data.

    Raises: TypesettingError for no slip or a paper size that there is not.
    Source: own rule.
    """
    if not slips:
        raise TypesettingError("a box slip needs one analyzer at least, got none")
    if to.paper not in PAPERS:
        raise TypesettingError(f"paper {to.paper!r} is not known; known are {', '.join(PAPERS)}")
    return {
        "paper": PAPERS[to.paper],
        "shop": printable(to.shop, 100),
        "address": [printable(line, 100) for line in to.address][:6],
        "phone": printable(to.phone, 40),
        "email": printable(to.email, 100),
        "pages": [_page(one) for one in slips],
        "cautions": [{"words": one.words, "alt": one.shows, "svg": one.drawing()} for one in box_cautions()],
        "date": {"year": to.on.year, "month": to.on.month, "day": to.on.day},
    }


def box_slip_pdf(slips: Sequence[BoxSlip], to: Destination) -> bytes:
    """Return the slips as PDF, one page an analyzer.

    Raises: TypesettingError.
    Source: common practice, no source.
    """
    return typeset("box_slip.typ", box_slip_content(slips, to))


def box_slip_pictures(slips: Sequence[BoxSlip], to: Destination) -> tuple[bytes, ...]:
    """Return the same pages as pictures (PNG), to be looked at on a screen.

    Raises: TypesettingError.
    Source: common practice, no source.
    """
    return typeset_pictures("box_slip.typ", box_slip_content(slips, to))


def _page(slip: BoxSlip) -> dict[str, Any]:
    known = {thing.name for thing in packing_list()}
    others = [printable(name, 40) for name in slip.enclosed if name not in known]
    return {
        "code": slip.code,
        "scanned": slip.scanned,
        "svg": code_drawing(slip.scanned),
        "request": printable(slip.request, 20),
        "serial": printable(slip.serial, 40),
        "item": printable(slip.item, 80),
        "owner": printable(slip.owner, 100),
        "contact": printable(slip.contact, 110),
        "complaint": printable(slip.complaint, 260),
        "happened": printable(slip.happened, 120),
        "wants": [printable(line, 72) for line in slip.wants][:6],
        "things": [
            {"words": one.words, "why": one.why, "svg": one.drawing(), "announced": one.name in slip.enclosed}
            for one in packing_list()
            if one.usual or one.name in slip.enclosed
        ],
        "others": others[:_MOST_EXTRA],
        "needed_by": date_in_words(slip.needed_by) if slip.needed_by else "",
        "place": slip.place,
        "places": slip.places,
    }
