"""Global risks for a population of any shape."""

import math

import numpy as np
import pytest

from flueproof.metrology.decision.population import global_risks_of_density
from flueproof.metrology.errors import ConformityInputError
from flueproof.metrology.risk import global_risks


def normal(mean, spread):
    return lambda true: np.exp(-0.5 * ((true - mean) / spread) ** 2) / spread / math.sqrt(2.0 * math.pi)


@pytest.mark.parametrize("u", [0.02, 0.3])
@pytest.mark.parametrize("guard", [0.0, 0.2])
def test_a_normal_density_gives_the_closed_form(guard, u):
    edge = 1.0 - guard
    found = global_risks_of_density(normal(0.1, 0.6), (-5.0, 5.2), (-1.0, 1.0), (-edge, edge), u)
    assert found == pytest.approx(global_risks(1.0, guard, u, 0.6, 0.1), abs=1e-9)


def test_a_limit_on_one_side_only_forgives_the_other():
    both = global_risks_of_density(normal(0.0, 0.6), (-6.0, 6.0), (-1.0, 1.0), (-1.0, 1.0), 0.2)
    upper = global_risks_of_density(normal(0.0, 0.6), (-6.0, 6.0), (None, 1.0), (None, 1.0), 0.2)
    assert upper.false_accept == pytest.approx(both.false_accept / 2.0, abs=1e-6)


@pytest.mark.parametrize(("support", "u"), [((0.0, math.inf), 0.1), ((1.0, 0.0), 0.1), ((0.0, 1.0), 0.0)])
def test_a_support_without_end_or_no_uncertainty_is_refused(support, u):
    with pytest.raises(ConformityInputError, match="finite interval"):
        global_risks_of_density(normal(0.0, 1.0), support, (None, 1.0), (None, 1.0), u)
