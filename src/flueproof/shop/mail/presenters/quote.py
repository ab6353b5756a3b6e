"""The lines of a quote, for who must say yes or no."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.shop.records.models import Quote
from flueproof.shop.records.money.amounts import in_words, line_sum


@dataclass(frozen=True, slots=True)
class Line:
    """One line; count: as one writes it; amount: what it comes to, with its currency."""

    words: str
    count: str
    amount: str


def quote_lines(quote: Quote) -> list[Line]:
    """Return the lines of a quote in their order."""
    return [
        Line(line.words, f"{line.count.normalize():f}", in_words(line_sum(line.count, line.price), quote.currency))
        for line in quote.lines.all()
    ]
