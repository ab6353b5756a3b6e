"""Numbers with point or comma."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.readings.importing.numbers import decimal_of, number_of


@pytest.mark.parametrize(
    ("text", "decimal", "number"),
    [("1,234.5", ".", 1234.5), ("1.234,5", ",", 1234.5), ("1'234,5", ",", 1234.5), ("−3", ".", -3.0), (".5", ".", 0.5)],
)
def test_grouped_and_signed_numbers(text, decimal, number):
    assert number_of(text, decimal) == number


@pytest.mark.parametrize("text", ["", "-", ".", "1.2.3", "12 ppm", "1,23,4", "nan"])
def test_what_is_no_number(text):
    assert number_of(text, ".") is None


@given(st.floats(-1e6, 1e6, allow_nan=False))
def test_numbers_survive_in_both_notations(value):
    assert number_of(f"{value:.4f}", ".") == number_of(f"{value:.4f}".replace(".", ","), ",") == float(f"{value:.4f}")


def test_the_decimal_sign_is_the_one_that_is_used():
    assert decimal_of(["20,9", "18,2"], ";") == ","
    assert decimal_of(["20.9", "1"], ";") == "."
    assert decimal_of(["1,234.5"], ";") == "."
    assert decimal_of(["12", "13"], ",") == "."
