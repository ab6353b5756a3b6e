"""What a link says that opens nothing any more: why, and whom to call."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.shop.records.mailing.facts import day_words
from flueproof.shop.records.mailing.links import Opened


@dataclass(frozen=True, slots=True)
class Closed:
    """A page without an act; status: of the answer."""

    heading: str
    text: str
    status: int


_UNKNOWN = Closed(
    "This link is not known",
    "Perhaps a part of the address got lost: open it from the e-mail again, or copy the whole line.",
    404,
)


def closed(opened: Opened) -> Closed:
    """Return what to say to who holds a link that is used, late, withdrawn or not known."""
    link = opened.link
    if link is None:
        return _UNKNOWN
    question, quote = link.question, link.quote
    if question is not None and question.state == "answered":
        day = day_words(question.answered_at)
        return Closed(
            "Thank you, we have your answer", f"It came on {day}. If it was not yours, or wrong, call us.", 200
        )
    if quote is not None and quote.state in {"approved", "declined"}:
        done = "approved" if quote.state == "approved" else "declined"
        text = f"Quote {quote.number} was {done} on {day_words(quote.decided_at)} by {quote.decided_by}. "
        return Closed(f"Quote {quote.number} is {done}", text + _next(quote.state), 200)
    if quote is not None and quote.state == "replaced":
        return Closed("There is a newer quote", f"Quote {quote.number} was replaced. Look for our newer e-mail.", 410)
    if opened.state == "used":
        return Closed(
            "This link was used already", f"It was good once, and was used on {day_words(link.used_at)}.", 410
        )
    if opened.state == "late":
        until = day_words(link.expires_at)
        return Closed("This link is too old", f"It was good until {until}. Call us, and we go on from there.", 410)
    return Closed("This link was withdrawn", "It is not needed any more; perhaps we sent you a newer e-mail.", 410)


def _next(state: str) -> str:
    if state == "approved":
        return "We go on with the work. If that was not you, call us at once."
    return (
        "We do nothing that costs money, and write how the analyzer comes back. If that was not you, call us at once."
    )
