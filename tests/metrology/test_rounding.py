import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.metrology.errors import RoundingError
from flueproof.metrology.rounding import ROUNDING_RULE_IN_WORDS, round_to_place, round_uncertainty, rounded_pair

widths = st.floats(1e-12, 1e12)


@given(u=widths, digits=st.integers(1, 3))
def test_rounding_never_takes_away_more_than_one_per_cent_nor_adds_more_than_a_unit(u, digits):
    exact, written = Decimal(repr(u)), round_uncertainty(u, digits)
    unit = Decimal(1).scaleb(exact.adjusted() - digits + 1)
    assert Decimal("0.99") * exact <= written <= exact + unit
    assert round_uncertainty(u, digits, "up") >= exact * (1 - Decimal("1e-10"))


@given(u=widths, digits=st.integers(1, 3))
def test_as_many_significant_digits_as_asked_for(u, digits):
    assert len(round_uncertainty(u, digits).as_tuple().digits) == digits


@given(u=widths)
def test_rounding_twice_changes_nothing(u):
    once = round_uncertainty(u)
    assert round_uncertainty(float(once)) == once


@given(value=st.floats(-1e6, 1e6), u=st.floats(1e-6, 1e6))
def test_value_and_uncertainty_end_at_the_same_place(value, u):
    value_text, width_text = rounded_pair(value, u)
    assert value_text.partition(".")[2].__len__() == width_text.partition(".")[2].__len__()
    assert not (value_text.startswith("-") and float(value_text) == 0.0)
    place = Decimal(1).scaleb(round_uncertainty(u).as_tuple().exponent)
    assert abs(Decimal(value_text) - Decimal(repr(value))) <= place / 2


@pytest.mark.parametrize(
    ("value", "u", "texts"),
    [
        (-0.004, 0.14, ("0.00", "0.14")),
        (-0.0, 0.0, ("0.0", "0")),
        (12345.6, 1234.0, ("12300", "1300")),
        (500.5, 14.0, ("500", "14")),
        (501.5, 14.0, ("502", "14")),
        (20.9, 0.996, ("20.90", "0.99")),
        (99.97, 9.96, ("100.0", "9.9")),
        (3.0, 9.85, ("3.0", "9.8")),
        (3.0, 9.75, ("3.0", "9.7")),
        (1e-7, 2e-8, ("0.000000100", "0.000000020")),
    ],
)
def test_pairs_as_a_certificate_prints_them(value, u, texts):
    assert rounded_pair(value, u) == texts


def test_rounding_up_over_a_power_of_ten_keeps_two_digits():
    assert str(round_uncertainty(0.0997, rule="up")) == "0.10"
    assert str(round_uncertainty(9.97, rule="up")) == "10"


def test_what_binary_arithmetic_leaves_over_does_not_count():
    assert round_uncertainty(0.1 + 0.2, rule="up") == Decimal("0.30")
    assert round_uncertainty(0.14, rule="up") == Decimal("0.14")


def test_the_rule_in_words_names_its_two_figures():
    assert "two significant digits" in ROUNDING_RULE_IN_WORDS
    assert "1 %" in ROUNDING_RULE_IN_WORDS


@pytest.mark.parametrize("u", [-0.1, math.nan, math.inf])
def test_an_uncertainty_that_cannot_be_written_is_refused(u):
    with pytest.raises(RoundingError, match="not negative"):
        round_uncertainty(u)


def test_a_value_that_cannot_be_written_is_refused():
    with pytest.raises(RoundingError, match="finite"):
        rounded_pair(math.nan, 1.0)
    with pytest.raises(RoundingError, match="finite"):
        round_to_place(math.inf, Decimal("0.1"))
    with pytest.raises(RoundingError, match="units"):
        rounded_pair(1e20, 1e-20)
    with pytest.raises(RoundingError, match="digits"):
        round_uncertainty(1.0, 0)
