"""The course of a span factor: jumps and control limits, held against a published chart."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.testgas.errors import SpanFactorError
from flueproof.testgas.span.course import beyond_limits, control_limits, jump, runs_on_one_side
from flueproof.testgas.span.factor import span_factor


class TestFlowRatesOfTenBatches:
    """NIST/SEMATECH e-Handbook, 6.3.2.2: the worked individuals chart, from memory; limits printed to four places."""

    FLOW = (49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)

    def test_center_and_limits_are_the_printed_ones(self):
        found = control_limits(self.FLOW)
        assert found.center == pytest.approx(50.81, abs=5e-3)
        assert found.high == pytest.approx(55.8041, abs=5e-4)
        assert found.low == pytest.approx(45.8159, abs=5e-4)

    def test_the_process_is_in_control(self):
        found = control_limits(self.FLOW)
        assert not any(beyond_limits(one, found) for one in self.FLOW)
        assert not runs_on_one_side(self.FLOW, found.center)


def test_fewer_than_eight_points_make_no_limits():
    assert control_limits([1.0] * 7) is None
    assert control_limits([1.0] * 8) is not None


def test_a_value_that_is_no_number_is_refused():
    with pytest.raises(SpanFactorError, match="finite"):
        control_limits([1.0] * 8 + [math.nan])


def factor(settled, cause="C-1", u_reading=2.5, u_certificate=2.5):
    return span_factor(500.0, u_certificate, settled, u_reading, cause)


def test_three_standard_uncertainties_are_the_border_of_a_jump():
    """Same bottle: u of the difference is the readings' alone, 0.5 % each, so about 0.71 %; three of it 2.1 %."""
    assert not jump(factor(500.0), factor(490.5)).is_jump
    assert jump(factor(500.0), factor(488.0)).is_jump


def test_the_certificate_counts_only_where_the_bottle_changes():
    same = jump(factor(500.0), factor(490.0), 0.0)
    other = jump(factor(500.0), factor(490.0, cause="C-2"), 0.0)
    assert other.u == pytest.approx(math.sqrt(2.0) * same.u, rel=0.02)


def test_what_scatters_from_day_to_day_widens_the_border():
    assert jump(factor(500.0), factor(485.0)).is_jump
    assert not jump(factor(500.0), factor(485.0), scatter=0.01).is_jump


def test_two_readings_without_uncertainty_are_refused():
    exact = factor(500.0, u_reading=0.0)
    with pytest.raises(SpanFactorError, match="uncertainty"):
        jump(exact, exact)


@given(st.floats(300.0, 700.0), st.floats(300.0, 700.0))
def test_a_jump_back_is_as_large_as_the_jump(first, second):
    there, back = jump(factor(first), factor(second)), jump(factor(second), factor(first))
    assert there.score == pytest.approx(-back.score)


def test_eight_on_one_side_are_a_run_and_seven_are_none():
    assert runs_on_one_side([0.0] + [1.0] * 8, 0.5)
    assert not runs_on_one_side([0.0] + [1.0] * 7, 0.5)
    assert not runs_on_one_side([1.0] * 7, 0.5)
