"""Points that share causes: covariance, combinations, and the probability that all conform."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.metrology.conformity import conformance_probability
from flueproof.metrology.errors import ConformityInputError
from flueproof.metrology.joint import combination_uncertainty, joint_conformance, shared_covariance


class TestSharedCauses:
    """Points on one bottle: gas 2.0 from the bottle, 0.5 own scatter."""

    covariance = shared_covariance([[2.0, 0.5], [2.0, 0.5]], [["bottle", None], ["bottle", None]])

    def test_a_repeat_does_not_shrink_the_bottles_share(self):
        mean_u = combination_uncertainty([0.5, 0.5], self.covariance)
        assert mean_u == pytest.approx(math.hypot(2.0, 0.5 / math.sqrt(2.0)))

    def test_tip_minus_instrument_cancels_it(self):
        assert combination_uncertainty([1.0, -1.0], self.covariance) == pytest.approx(0.5 * math.sqrt(2.0))

    def test_other_bottles_are_independent(self):
        apart = shared_covariance([[2.0, 0.5], [2.0, 0.5]], [["bottle", None], ["other", None]])
        assert apart.tolist() == [[4.25, 0.0], [0.0, 4.25]]

    def test_one_tag_twice_in_a_point_adds_as_numbers(self):
        assert shared_covariance([[3.0, -1.0]], [["bench", "bench"]]).tolist() == [[4.0]]

    def test_tags_of_another_shape_are_refused(self):
        with pytest.raises(ConformityInputError, match="shape of the contributions"):
            shared_covariance([[1.0, 2.0]], [["bottle"]])

    def test_weights_of_another_shape_are_refused(self):
        with pytest.raises(ConformityInputError, match="must be square"):
            combination_uncertainty([1.0], self.covariance)


class TestAllConform:
    errors, u, limits = np.array([0.1, -0.6, 0.3]), np.array([0.5, 0.4, 0.9]), np.array([1.0, 1.0, 2.0])

    def test_independent_points_multiply(self):
        found = joint_conformance(self.errors, np.diag(self.u**2), self.limits)
        product = np.prod(conformance_probability(self.errors, self.u, -self.limits, self.limits))
        assert found.probability == pytest.approx(product, abs=1e-12)

    def test_fully_correlated_points_are_as_sure_as_the_narrowest_of_them(self):
        signed = self.u * [1.0, 1.0, -1.0]
        found = joint_conformance(self.errors, np.outer(signed, signed), self.limits)
        low = np.sort(np.stack([(-self.limits - self.errors) / signed, (self.limits - self.errors) / signed]), axis=0)
        inside = conformance_probability(0.0, 1.0, low[0].max(), low[1].min())
        assert found.probability == pytest.approx(inside, abs=1e-12)

    def test_one_point_is_its_own_probability(self):
        found = joint_conformance([0.4], [[0.25]], [1.0])
        assert found.probability == pytest.approx(conformance_probability(0.4, 0.5, -1.0, 1.0), abs=1e-15)

    @pytest.mark.parametrize("points", [2, 5, 12, 20])
    def test_plain_draws_agree(self, points):
        generator = np.random.default_rng(points)
        root = generator.normal(size=(points, 3))
        covariance = root @ root.T / 3.0 + np.diag(generator.uniform(0.05, 0.5, points))
        errors, limits = generator.normal(0.0, 0.2, points), generator.uniform(1.5, 3.0, points)
        found = joint_conformance(errors, covariance, limits)
        draws = generator.multivariate_normal(errors, covariance, 100_000)
        share = np.mean(np.all(np.abs(draws) <= limits, axis=1))
        assert found.probability == pytest.approx(share, abs=5.0 * math.sqrt(share * (1.0 - share) / 100_000))
        assert found.integration_error <= 1e-4

    def test_points_driven_by_fewer_causes_than_points_are_integrated_too(self):
        generator = np.random.default_rng(3)
        causes = generator.normal(size=(5, 2))
        found = joint_conformance(np.zeros(5), causes @ causes.T, np.full(5, 2.0))
        draws = generator.normal(size=(200_000, 2)) @ causes.T
        assert found.probability == pytest.approx(np.mean(np.all(np.abs(draws) <= 2.0, axis=1)), abs=0.005)

    def test_the_one_factor_integral_agrees(self):
        """Equal correlation r: all inside is the mean over the common cause of a product of single probabilities."""
        nodes, weights = np.polynomial.hermite_e.hermegauss(80)
        single = conformance_probability(nodes * math.sqrt(0.6), math.sqrt(0.4), -1.5, 1.5)
        expected = float(weights @ single**6 / weights.sum())
        covariance = np.full((6, 6), 0.6) + 0.4 * np.eye(6)
        assert joint_conformance(np.zeros(6), covariance, np.full(6, 1.5)).probability == pytest.approx(
            expected, abs=5e-4
        )

    def test_an_exactly_known_point_decides_by_itself(self):
        matrix = np.diag([0.0, 0.25])
        inside = joint_conformance([0.5, 0.0], matrix, [1.0, 1.0]).probability
        assert inside == pytest.approx(conformance_probability(0.0, 0.5, -1.0, 1.0))
        assert joint_conformance([1.5, 0.0], matrix, [1.0, 1.0]).probability == 0.0
        assert joint_conformance([0.5], [[0.0]], [1.0]).probability == 1.0

    def test_points_far_outside_leave_next_to_nothing(self):
        covariance = np.full((4, 4), 0.5) + 0.5 * np.eye(4)
        found = joint_conformance([60.0, 0.0, -45.0, 50.0], covariance, np.ones(4))
        assert 0.0 <= found.probability < 1e-300
        assert math.isfinite(found.integration_error)

    def test_limits_on_one_side_only(self):
        found = joint_conformance([0.0, 0.0], np.eye(2), [[-math.inf, 1.0], [0.0, math.inf]])
        assert found.probability == pytest.approx(conformance_probability(0.0, 1.0, None, 1.0) * 0.5, abs=1e-12)

    def test_contradicting_limits_of_one_cause_leave_nothing(self):
        assert joint_conformance([0.0, 5.0], np.ones((2, 2)), [1.0, 1.0]).probability == 0.0

    @pytest.mark.parametrize(
        ("matrix", "message"),
        [([[1.0, 0.5], [0.4, 1.0]], "not symmetric"), ([[1.0, 2.0], [2.0, 1.0]], "contradict"), ([[1.0]], "square")],
    )
    def test_a_covariance_that_cannot_be_is_refused(self, matrix, message):
        with pytest.raises(ConformityInputError, match=message):
            joint_conformance([0.0, 0.0], matrix, [1.0, 1.0])

    @settings(max_examples=25, deadline=None)
    @given(share=st.floats(0.0, 0.99), errors=st.lists(st.floats(-2, 2), min_size=2, max_size=4))
    def test_sharing_lies_between_the_bounds_of_any_correlation(self, share, errors):
        count = len(errors)
        covariance = np.full((count, count), share) + (1.0 - share) * np.eye(count)
        found = joint_conformance(errors, covariance, np.full(count, 1.5)).probability
        single = conformance_probability(errors, 1.0, -1.5, 1.5)
        assert max(0.0, 1.0 - np.sum(1.0 - single)) - 1e-3 <= found <= np.min(single) + 1e-3
