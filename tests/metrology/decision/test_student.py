"""Student's t in bulk against the exact distribution."""

import math

import numpy as np
import pytest
from scipy import special

from flueproof.metrology.coverage import LEVEL, coverage_factor
from flueproof.metrology.decision.student import student_factors, student_tails
from flueproof.metrology.errors import LevelError

DENSE_DOF = np.concatenate([np.geomspace(0.3, 1e7, 20_001), np.arange(1.0, 200.0)])


class TestFactors:
    @pytest.mark.parametrize("level", [0.6827, 0.9, 0.95, LEVEL, 0.96, 0.99])
    def test_factors_agree_with_the_exact_ones_to_a_millionth(self, level):
        found = student_factors(level).at(DENSE_DOF)
        exact = special.stdtrit(DENSE_DOF, 0.5 + 0.5 * level)
        assert np.max(np.abs(found / exact - 1.0)) < 1e-6

    def test_infinite_degrees_of_freedom_give_exactly_two(self):
        assert student_factors(LEVEL).at(np.array([math.inf]))[0] == 2.0

    def test_they_are_the_factors_of_the_budget(self):
        dof = np.array([1.0, 2.0, 16.7, 1e5])
        assert student_factors(LEVEL).at(dof) == pytest.approx(coverage_factor(dof, LEVEL), rel=1e-6)

    def test_a_level_in_per_cent_is_refused(self):
        with pytest.raises(LevelError, match=r"write 0\.95 for 95 %"):
            student_factors(95.0)


class TestTails:
    @pytest.mark.parametrize("dof", [0.8, 2.0, 4.99, 5.0, 5.5, 8.0, 30.0, 1e3, 1e6, 1e15, math.inf])
    def test_tails_agree_with_the_exact_ones_to_two_in_ten_million(self, dof):
        distance = np.linspace(-60.0, 60.0, 20_001)
        exact = special.ndtr(-distance) if math.isinf(dof) else special.stdtr(dof, -distance)
        assert np.max(np.abs(student_tails(distance, np.full_like(distance, dof)) - exact)) < 2e-7

    def test_an_infinite_distance_leaves_nothing(self):
        ends = np.array([math.inf, -math.inf])
        for dof in (3.0, 9.0, math.inf):
            assert student_tails(ends, np.full(2, dof)) == pytest.approx([0.0, 1.0], abs=1e-12)
