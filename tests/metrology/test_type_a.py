import numpy as np
import pytest

from flueproof.metrology.errors import ReadingsError
from flueproof.metrology.type_a import (
    between_within,
    between_within_from,
    dof_from_doubt,
    doubt_of_s,
    mean_of,
    pooled_from,
    pooled_s,
)


def test_groups_of_one_reading_bring_nothing_to_the_pool():
    assert pooled_s([[1.0, 3.0], [7.0]]) == pooled_s([[1.0, 3.0]])


def test_pooling_standard_deviations_is_pooling_their_readings():
    groups = [[1.0, 2.0, 4.0], [10.0, 13.0]]
    deviations = [np.std(group, ddof=1) for group in groups]
    assert pooled_from(deviations, [2, 1]) == pytest.approx(pooled_s(groups))


def test_a_large_offset_does_not_spoil_the_scatter():
    readings = np.array([1.0, 2.0, 3.0, 4.0])
    assert mean_of(readings + 1e9).s == pytest.approx(mean_of(readings).s, rel=1e-12)


def test_uncertainty_of_the_mean_covers_shared_days_in_simulation():
    """Means of 5 days of 4 readings with day scatter 3: their spread is what between_within says."""
    generator = np.random.default_rng(4)
    data = generator.normal(0.0, 3.0, (4000, 5, 1)) + generator.normal(0.0, 1.0, (4000, 5, 4))
    claimed = np.sqrt(np.mean([between_within(groups).u_mean ** 2 for groups in data[:500]]))
    assert claimed == pytest.approx(data.mean(axis=(1, 2)).std(), rel=0.06)


def test_groups_closer_together_than_their_scatter_have_no_scatter_of_their_own():
    assert between_within([[1.0, 9.0], [1.0, 9.0]]).s_between == 0.0
    assert between_within([[1.0, 1.0], [2.0, 2.0]]).f_ratio == np.inf


@pytest.mark.parametrize("readings", [[], [1.0], [1.0, np.nan], [[1.0, 2.0]]])
def test_readings_without_a_scatter_are_refused(readings):
    with pytest.raises(ReadingsError):
        mean_of(readings)


def test_what_says_nothing_is_refused():
    for call in (
        lambda: pooled_s([[1.0]]),
        lambda: pooled_from([1.0], [0.0]),
        lambda: pooled_from([-1.0], [1.0]),
        lambda: between_within([[1.0, 2.0]]),
        lambda: between_within_from([1.0, 2.0], [0.1, 0.1], 1),
        lambda: doubt_of_s(1),
        lambda: dof_from_doubt(0.0),
    ):
        with pytest.raises(ReadingsError):
            call()
