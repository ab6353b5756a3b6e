"""Readings that stand."""

import math

import pytest

from flueproof.readings.response.prior import GENERIC
from flueproof.readings.shown import read_shown
from flueproof.readings.standing import settle_early, settle_still_looks, settle_without_times


@pytest.mark.parametrize(("step", "u"), [(0.1, 0.02886751), (1.0, 0.2886751), (0.01, 0.002886751)])
def test_one_look_has_the_uncertainty_of_the_display_step(step, u):
    """JCGM 100:2008, F.2.2.1: step / sqrt(12)."""
    settled = settle_without_times(read_shown([5.0], None, step))
    assert settled.u == pytest.approx(u, rel=1e-6)
    assert settled.u_step == settled.u
    assert math.isinf(settled.dof)


def test_scatter_of_single_looks_is_not_divided_by_the_root_of_their_number():
    """Standard deviation of single readings: JCGM 100:2008, 4.2.2."""
    settled = settle_without_times(read_shown([10.0, 12.0, 14.0], None, None))
    assert settled.value == 12.0
    assert settled.u == pytest.approx(2.0)
    assert settled.dof == pytest.approx(2.0)
    assert settled.high - 12.0 == pytest.approx(4.302653 * 2.0, rel=1e-5)  # t 95 % for 2 dof, JCGM 100 Table G.2: 4.30


def test_a_trace_that_stays_is_read_after_it_would_have_settled():
    looks = read_shown([0, 7, 2, 2, 2], [0, 20, 60, 90, 120], 1.0)
    settled = settle_still_looks(looks.times_s, looks.values, 1.0, 0.0, GENERIC, 0.95)
    assert settled.value == 2.0
    assert settled.start == 0.0


def test_a_glimpse_leaves_the_prior_to_say_what_comes():
    settled = settle_early(15.0, 200.0, 0.0, 1.0, GENERIC, 0.95)
    assert settled.low < 350 < settled.high
    assert math.isinf(settled.t90_s)
    assert not settled.settled
