"""Span factors and whether two cylinders agree by them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.testgas.errors import SpanFactorError
from flueproof.testgas.span.factor import agreement, span_factor

above_zero = st.floats(1.0, 1e4)


def test_a_unit_that_reads_two_percent_low_has_a_factor_of_one_point_zero_two():
    found = span_factor(500.0, 2.5, 490.0, 2.45, "C-1")
    assert found.value == pytest.approx(500.0 / 490.0)
    assert found.u_certificate / found.value == pytest.approx(0.005)
    assert found.u_reading / found.value == pytest.approx(0.005)
    assert found.u == pytest.approx(found.value * 0.005 * math.sqrt(2.0))


@given(above_zero, above_zero, st.floats(0.001, 0.05), st.floats(0.001, 0.05))
def test_its_relative_variance_is_the_sum_of_both(certificate, settled, first, second):
    """JCGM 100:2008, 5.1.6, equation (12)."""
    found = span_factor(certificate, first * certificate, settled, second * settled, "C")
    assert (found.u / found.value) ** 2 == pytest.approx(first**2 + second**2)


@pytest.mark.parametrize(("certificate", "settled"), [(0.0, 5.0), (500.0, 0.0), (500.0, math.nan), (-1.0, 5.0)])
def test_no_factor_without_two_values_above_zero(certificate, settled):
    with pytest.raises(SpanFactorError, match="above zero"):
        span_factor(certificate, 1.0, settled, 1.0, "C")


def test_two_good_cylinders_agree_whatever_the_gain_of_the_unit():
    for gain in (0.7, 1.0, 1.2):
        new = span_factor(505.0, 2.5, 505.0 * gain, 1.5, "new")
        old = span_factor(498.0, 2.5, 498.0 * gain, 1.5, "old")
        found = agreement(new, old)
        assert found.agrees
        assert found.difference == pytest.approx(0.0, abs=1e-12)


def test_a_cylinder_four_percent_off_does_not_agree_and_the_words_say_by_how_much():
    new = span_factor(500.0, 2.5, 480.0, 1.5, "new")
    old = span_factor(500.0, 2.5, 500.0, 1.5, "old")
    found = agreement(new, old)
    assert not found.agrees
    assert "+4.17 %" in found.in_words
    assert "do not agree" in found.in_words


def test_the_score_is_the_difference_over_the_root_of_both_expanded_squares():
    """E_n as in ISO 13528: (x - X) / sqrt(U_x^2 + U_X^2), from memory; figures worked by hand."""
    new = span_factor(100.0, 1.0, 97.0, 0.0, "new")  # 1.030928, u 0.010309
    old = span_factor(100.0, 1.0, 100.0, 0.0, "old")  # 1.000000, u 0.010000
    assert agreement(new, old).score == pytest.approx(0.030928 / (2.0 * math.hypot(0.010309, 0.01)), rel=1e-4)


def test_two_cans_of_a_lot_share_the_certificate_and_are_no_second_witness():
    new = span_factor(100.0, 5.0, 97.0, 0.5, "lot L-81")
    old = span_factor(100.0, 5.0, 100.0, 0.5, "lot L-81")
    found = agreement(new, old)
    assert found.u == pytest.approx(math.hypot(new.u_reading, old.u_reading))
    assert not found.agrees
    assert "says nothing about its value" in found.in_words


def test_cylinders_of_different_strength_are_not_compared():
    with pytest.raises(SpanFactorError, match="at most 20 %"):
        agreement(span_factor(100.0, 1.0, 100.0, 1.0, "a"), span_factor(500.0, 1.0, 500.0, 1.0, "b"))
