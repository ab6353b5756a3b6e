"""Sums of money: exact, rounded once a line, with their currency."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, Final

CENT: Final = Decimal("0.01")
LARGEST_PRICE: Final = Decimal("99999.99")  # of one line's piece; more is a slip of the keys
MOST_PIECES: Final = Decimal(999)
# Currencies whose smallest coin is the unit itself (ISO 4217, exponent 0; from memory).
_WHOLE: Final = frozenset({"CLP", "ISK", "JPY", "KRW", "VND", "XAF", "XOF"})


class AmountError(ValueError):
    """A price or a count that cannot be meant; the message says what can."""


def checked_price(value: Decimal) -> Decimal:
    """Return a price of a piece. Raises: AmountError where it is negative, absurd, or finer than a cent."""
    if not value.is_finite() or value < 0:
        raise AmountError("A price is 0 or more; take a line out instead of giving it a negative price.")
    if value > LARGEST_PRICE:
        raise AmountError(f"A price is at most {LARGEST_PRICE:,}. Was a point left out?")
    if value != value.quantize(CENT):
        raise AmountError("A price has two places after the point at most.")
    return value.quantize(CENT)


def checked_count(value: Decimal) -> Decimal:
    """Return how many pieces or hours. Raises: AmountError."""
    if not value.is_finite() or value <= 0:
        raise AmountError("Say how many: more than 0.")
    if value > MOST_PIECES:
        raise AmountError(f"At most {MOST_PIECES} of one thing stand on a line.")
    if value != value.quantize(CENT):
        raise AmountError("A count has two places after the point at most.")
    return value


def line_sum(count: Decimal, price: Decimal) -> Decimal:
    """Return what a line comes to, rounded half up to a cent."""
    return (count * price).quantize(CENT, ROUND_HALF_UP)


def sum_of(lines: Iterable[Any]) -> Decimal:
    """Return what lines (with count and price) come to together."""
    return sum((line_sum(line.count, line.price) for line in lines), Decimal("0.00"))


def in_words(amount: Decimal, currency: str) -> str:
    """Return "USD 1,240.00"; a currency without cents shows none where there are none."""
    whole = currency in _WHOLE and amount == amount.to_integral_value()
    return f"{currency} {amount:,.0f}" if whole else f"{currency} {amount:,.2f}"
