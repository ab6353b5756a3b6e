"""Sums of money: exact, and nothing absurd gets in."""

from decimal import Decimal

import pytest

from flueproof.shop.records.money.amounts import (
    AmountError,
    checked_count,
    checked_price,
    in_words,
    line_sum,
    sum_of,
)
from flueproof.shop.records.money.quoting import Wanted


@pytest.mark.parametrize("text", ["-0.01", "100000", "1E9", "NaN", "Infinity", "1.005"])
def test_a_price_that_cannot_be_meant_is_refused(text):
    with pytest.raises(AmountError):
        checked_price(Decimal(text))


def test_a_price_of_nothing_is_a_price():
    assert checked_price(Decimal(0)) == Decimal("0.00")


@pytest.mark.parametrize("text", ["0", "-1", "1000", "0.001", "NaN"])
def test_a_count_that_cannot_be_meant_is_refused(text):
    with pytest.raises(AmountError):
        checked_count(Decimal(text))


def test_a_line_is_rounded_half_up_to_a_cent():
    assert line_sum(Decimal("0.5"), Decimal("0.05")) == Decimal("0.03")
    assert line_sum(Decimal("0.25"), Decimal("85.00")) == Decimal("21.25")


def test_ten_dimes_are_a_dollar():
    """What floats do not manage: 0.1 ten times."""
    assert sum_of([Wanted("dime", Decimal("0.10"))] * 10) == Decimal("1.00")


def test_amounts_stand_with_their_currency():
    assert in_words(Decimal("1240.5"), "USD") == "USD 1,240.50"
    assert in_words(Decimal("1240.00"), "JPY") == "JPY 1,240"
