"""Numbers and arrays of numbers."""

import numpy as np
import pytest

from flueproof.chemistry.arrays import numbers, told, within
from flueproof.chemistry.errors import FlueGasError


@pytest.mark.parametrize("values", [3, 3.0, [1, 2], ((1.0, 2.0), (3.0, 4.0)), np.arange(3)])
def test_all_kinds_of_numbers_become_floats(values):
    assert numbers(values, "O2").dtype == np.float64
    assert numbers(values, "O2").shape == np.shape(values)


@pytest.mark.parametrize("values", ["five", None, object(), [1.0, "x"], {"o2": 5.0}])
def test_what_is_no_number_is_told_by_name(values):
    if values is None:
        assert np.isnan(numbers(values, "O2"))
        return
    with pytest.raises(FlueGasError, match="O2"):
        numbers(values, "O2")


def test_the_first_value_outside_is_named_with_its_place():
    with pytest.raises(FlueGasError, match=r"CO 9 ppm \(value 2 of 3\): allowed is 0 to 5 ppm"):
        within([1.0, 9.0, 10.0], "CO", 0.0, 5.0, "ppm")
    with pytest.raises(FlueGasError, match="CO 9 ppm: allowed"):
        within(9.0, "CO", 0.0, 5.0, "ppm")


def test_not_a_number_is_outside():
    with pytest.raises(FlueGasError, match="nan"):
        within(float("nan"), "CO", 0.0, 5.0, "ppm")


def test_a_wrong_value_in_a_table_is_counted_row_by_row():
    table = np.array([[1.0, 2.0], [3.0, 4.0]])
    assert told(table, table > 2.5, "%") == "3 % (value 3 of 4)"
