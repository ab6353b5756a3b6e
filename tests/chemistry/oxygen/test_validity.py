"""Where a correction for air is doubtful, and where it is refused."""

import numpy as np
import pytest

from flueproof.chemistry.errors import FlueGasError, NearAmbientError
from flueproof.chemistry.oxygen.validity import checked_o2, checked_values


def test_above_15_it_is_doubtful_and_from_18_refused():
    checked = checked_o2([0.0, 15.0, 15.1, 17.99, 18.0, 20.9, -0.5, -0.6, float("nan")], "nan")
    assert checked.doubtful.tolist() == [False, False, True, True, False, False, False, False, False]
    assert checked.refused.tolist() == [False, False, False, False, True, True, False, True, True]
    assert np.isnan(checked.o2_pct).tolist() == checked.refused.tolist()


@pytest.mark.parametrize("o2", [18.0, 20.9, 25.0, float("inf")])
def test_near_ambient_is_refused_with_what_to_do(o2):
    with pytest.raises(NearAmbientError, match="Look for a leak"):
        checked_o2(o2)


@pytest.mark.parametrize("o2", [-0.51, float("nan"), float("-inf")])
def test_what_is_no_oxygen_is_refused(o2):
    with pytest.raises(FlueGasError, match="allowed is") as caught:
        checked_o2(o2)
    assert not isinstance(caught.value, NearAmbientError)


def test_at_18_a_third_of_a_per_cent_moves_the_result_by_a_tenth():
    """The reason for the bound: 0.3 / (20.9 - 18)."""
    assert pytest.approx(1.1, abs=0.02) == (20.9 - 18.0) / (20.9 - 18.3)


def test_values_that_are_no_numbers_are_refused_or_marked():
    with pytest.raises(FlueGasError, match="leave the reading out"):
        checked_values([1.0, float("inf")], "CO")
    assert np.isnan(checked_values([1.0, float("inf")], "CO", "nan")).tolist() == [False, True]
    assert checked_values([1.0, 2.0], "CO").tolist() == [1.0, 2.0]
