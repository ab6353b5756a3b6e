import GTC
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.metrology.combining import checked_correlation, combine, tied_groups
from flueproof.metrology.errors import BudgetError, EmptyBudgetError

parts_of = st.lists(st.floats(-1e3, 1e3).filter(lambda part: part == 0.0 or abs(part) > 1e-6), min_size=1, max_size=6)


@given(parts=parts_of, scale=st.sampled_from([1e-90, 1e-3, 1.0, 1e90]))
def test_the_unit_of_the_contributions_does_not_matter(parts, scale):
    dof = np.arange(2.0, 2.0 + len(parts))
    u, nu = combine(parts, dof)
    scaled_u, scaled_nu = combine(np.array(parts) * scale, dof)
    assert scaled_u == pytest.approx(u * scale, rel=1e-12)
    assert scaled_nu == pytest.approx(nu, rel=1e-9)


@given(parts=parts_of.filter(any))
def test_effective_dof_lie_between_the_smallest_and_the_sum(parts):
    dof = np.arange(2.0, 2.0 + len(parts))
    assert 2.0 * (1 - 1e-12) <= combine(parts, dof).dof <= dof.sum() * (1 + 1e-12)


def test_many_points_give_what_each_gives_alone():
    generator = np.random.default_rng(1)
    parts, dof = generator.normal(size=(5, 7, 6)), np.array([4.0, np.inf, 9.0, np.inf, 50.0, 2.5])
    matrix = np.eye(6)
    matrix[0, 2] = matrix[2, 0] = 0.4
    matrix[3, 4] = matrix[4, 3] = -1.0
    for correlation in (None, matrix):
        together = combine(parts, dof, correlation)
        for place in np.ndindex(5, 7):
            alone = combine(parts[place], dof, correlation)
            assert together.u[place] == pytest.approx(alone.u, rel=1e-13)
            assert together.dof[place] == pytest.approx(alone.dof, rel=1e-12)


def test_degrees_of_freedom_may_differ_from_point_to_point():
    u, dof = combine([[3.0, 4.0], [3.0, 4.0]], [[2.0, 9.0], [np.inf, np.inf]])
    assert u == pytest.approx([5.0, 5.0])
    assert dof == pytest.approx([625 / (81 / 2 + 256 / 9), np.inf])


def test_no_contribution_at_all_is_zero_and_exactly_known():
    u, dof = combine([[0.0, 0.0], [1.0, 0.0]], [3.0, 5.0])
    assert u.tolist() == [0.0, 1.0]
    assert dof.tolist() == [np.inf, 3.0]


def test_opposite_shares_of_one_cause_cancel_to_exactly_nothing():
    assert combine([0.1, -0.1], np.inf, [[1.0, 1.0], [1.0, 1.0]]).u == 0.0
    assert combine([0.1, 0.1], np.inf, [[1.0, -1.0], [-1.0, 1.0]]).u == 0.0


def test_independent_contributions_agree_with_gtc():
    """Peer: GTC, an open-source library for the same guide."""
    generator = np.random.default_rng(5)
    for _ in range(20):
        count = int(generator.integers(1, 7))
        parts, dof = generator.uniform(0.01, 2.0, count), generator.integers(2, 60, count).astype(float)
        peer = sum(GTC.ureal(0.0, u, df) for u, df in zip(parts, dof, strict=True))
        u, nu = combine(parts, dof)
        assert u == pytest.approx(GTC.uncertainty(peer), rel=1e-12)
        assert nu == pytest.approx(GTC.dof(peer), rel=1e-9)


def test_correlated_readings_taken_together_agree_with_gtc():
    generator = np.random.default_rng(6)
    readings = generator.normal(size=(3, 8)) + generator.normal(size=8)
    first, second, third = GTC.type_a.multi_estimate_real(readings.tolist())
    peer = 2.0 * first - 0.5 * second + third + GTC.ureal(0.0, 0.3, 12)
    u_mean = readings.std(axis=1, ddof=1) / np.sqrt(8)
    matrix = np.eye(4)
    matrix[:3, :3] = np.corrcoef(readings)
    u, nu = combine([2.0 * u_mean[0], -0.5 * u_mean[1], u_mean[2], 0.3], [7.0, 7.0, 7.0, 12.0], matrix)
    assert u == pytest.approx(GTC.uncertainty(peer), rel=1e-10)
    assert nu == pytest.approx(GTC.dof(peer), rel=1e-9)


def test_tied_inputs_are_found_through_third_ones():
    matrix = np.eye(5)
    matrix[0, 3] = matrix[3, 0] = matrix[3, 4] = matrix[4, 3] = 0.2
    assert tied_groups(matrix) == [[0, 3, 4], [1], [2]]


@pytest.mark.parametrize(
    ("matrix", "word"),
    [
        ([[1.0, 0.5]], "2 by 2"),
        ([[1.0, 1.5], [1.5, 1.0]], "between -1 and 1"),
        ([[1.0, np.nan], [np.nan, 1.0]], "between -1 and 1"),
        ([[1.0, 0.5], [0.4, 1.0]], "symmetric"),
        ([[0.9, 0.5], [0.5, 1.0]], "ones"),
    ],
)
def test_an_impossible_correlation_is_refused(matrix, word):
    with pytest.raises(BudgetError, match=word):
        checked_correlation(matrix, 2)


def test_coefficients_that_cannot_hold_together_are_refused():
    with pytest.raises(BudgetError, match="hold together"):
        combine([1.0, 1.0, 1.0], np.inf, [[1.0, 0.9, -0.9], [0.9, 1.0, 0.9], [-0.9, 0.9, 1.0]])


@pytest.mark.parametrize(
    ("parts", "dof", "error"),
    [
        ([], np.inf, EmptyBudgetError),
        (1.0, np.inf, EmptyBudgetError),
        ([1.0, np.nan], np.inf, BudgetError),
        ([1.0, -np.inf], np.inf, BudgetError),
        ([1.0, 2.0], [0.0, 1.0], BudgetError),
        ([1.0, 2.0], [1.0, 2.0, 3.0], BudgetError),
    ],
)
def test_what_cannot_be_combined_is_refused(parts, dof, error):
    with pytest.raises(error):
        combine(parts, dof)
