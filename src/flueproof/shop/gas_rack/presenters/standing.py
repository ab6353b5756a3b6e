"""How a reference stands, in words and a tone: in use, not yet checked, expires soon, expired, empty, withdrawn."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

from flueproof.shop.frame.presenters.moments import day_text
from flueproof.shop.records.gas.litres import Left
from flueproof.shop.records.models import Reference
from flueproof.testgas.shipped_table import shipped_table

FEW_TESTS: Final = 10  # own choice: about a week of one bench


@dataclass(frozen=True, slots=True)
class Standing:
    """word: the state in a word or two; text: a sentence with what to do, "" when all is well; tone: good, care, bad.

    order: the smaller, the further left on the rack.
    """

    word: str
    text: str
    tone: str
    order: int


def standing_of(reference: Reference, left: Left | None, day: date) -> Standing:
    """Return how a reference stands on a day; left: what is left in a cylinder, None for an instrument."""
    if reference.state == "withdrawn":
        return Standing("withdrawn", reference.withdrawn_why, "bad", 5)
    if reference.state == "empty":
        return Standing("empty", "Take it off the rack; it judges nothing more.", "bad", 4)
    gas = reference.kind == "test-gas"
    until = reference.good_until
    if until is not None and until < day:
        word = "expired" if gas else "overdue"
        todo = "nothing is signed on it. Replace it." if gas else "nothing is signed on it. Send it out."
        return Standing(word, f"Since {day_text(until)} {todo}", "bad", 3)
    if reference.state == "new":
        return Standing("new", "Check it against the old one before it judges.", "care", 2)
    if left is not None and left.litres is not None and left.litres <= 0.0:
        return Standing("empty by count", "Read its gauge: by count nothing usable is left.", "bad", 1)
    return _in_use(left, until, day, gas=gas)


def _in_use(left: Left | None, until: date | None, day: date, *, gas: bool) -> Standing:
    if until is not None and (until - day).days <= int(shipped_table("shelf_life")["soon"]["days"]):
        days = (until - day).days
        what = f"{days} day{'' if days == 1 else 's'}" if days else "today is the last day"
        verb = "expires soon" if gas else "due soon"
        todo = "Order the next one." if gas else "Plan its calibration."
        return Standing(verb, f"{what[:1].upper()}{what[1:]}{' left' if days else ''}. {todo}", "care", 0)
    if left is not None and left.tests is not None and left.tests < FEW_TESTS:
        return Standing("few tests left", f"{left.tests} tests left. Order the next one.", "care", 0)
    return Standing("in use", "", "good", 0)
