import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special, stats

from flueproof.metrology.distributions import FromExpanded, FromLevel, Normal, Triangular, TypeA
from flueproof.metrology.errors import MonteCarloError
from flueproof.metrology.propagation.sampling import LONG_VECTOR, deviations_of, lattice_scores, turning


def lattice(power, inputs, seed=1):
    return np.concatenate(list(lattice_scores(power, inputs, np.random.default_rng(seed))), axis=1)


@pytest.mark.parametrize("inputs", [1, 4, 10, 11, 34])
def test_every_input_meets_every_cell_once(inputs):
    cells = np.floor(special.ndtr(lattice(8, inputs)) * 256).astype(int)
    assert all(sorted(row) == list(range(256)) for row in cells.tolist())


def test_pieces_together_are_the_whole_lattice():
    scores = lattice(14, 3)
    assert scores.shape == (3, 1 << 14)
    assert len(np.unique(scores[0])) == 1 << 14
    assert np.abs(np.corrcoef(scores) - np.eye(3)).max() < 0.005


def test_shifts_are_drawn_anew_each_time():
    assert np.abs(lattice(6, 2, seed=1) - lattice(6, 2, seed=2)).max() > 0.1


@given(seed=st.integers(0, 10_000), inputs=st.integers(1, 6), flat=st.booleans())
def test_a_turning_keeps_scores_independent_and_leads_with_the_slope(seed, inputs, flat):
    generator = np.random.default_rng(seed)
    slopes = np.zeros(inputs) if flat else generator.normal(size=inputs)
    curved = generator.normal(size=(inputs, inputs))
    matrix = turning(slopes, curved + curved.T)
    assert matrix @ matrix.T == pytest.approx(np.eye(inputs), abs=1e-9)
    if not flat:
        assert abs(matrix[:, 0] @ slopes) == pytest.approx(np.linalg.norm(slopes))


@pytest.mark.parametrize(
    ("distribution", "peer"),
    [
        (Normal(2.0), stats.norm(0, 2)), (FromExpanded(4.0), stats.norm(0, 2)), (Normal(2.0, 2.5), stats.t(2.5, 0, 2)),
        (FromLevel(2.0, math.erf(math.sqrt(2.0))), stats.norm(0, 1)), (TypeA(1.0, 4), stats.t(3, 0, 0.5)),
        (Triangular(1.0), stats.triang(0.5, -1, 2)),
    ],
)  # fmt: skip
def test_scores_become_deviations_of_the_same_probability(distribution, peer):
    scores = np.linspace(-4.5, 4.5, 1237)
    assert deviations_of(distribution, scores) == pytest.approx(peer.ppf(special.ndtr(scores)), rel=3e-5, abs=1e-9)


def test_more_than_the_vector_is_made_for_is_refused():
    for power, inputs in ((21, 2), (8, len(LONG_VECTOR) + 1), (8, 0)):
        with pytest.raises(MonteCarloError, match="lattice takes"):
            lattice(power, inputs)
