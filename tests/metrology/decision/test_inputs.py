"""Numbers at the door."""

import math

import numpy as np
import pytest

from flueproof.metrology.decision.inputs import finite_array, limit_pair, not_negative, plain_result, positive_limit
from flueproof.metrology.errors import ConformityInputError


def test_good_numbers_pass_as_float64():
    assert finite_array([1, 2], "error").dtype == np.float64
    assert not_negative(0, "u") == 0.0
    assert positive_limit([1.0, math.inf]).tolist() == [1.0, math.inf]


def test_a_missing_limit_is_an_infinity():
    assert limit_pair(None, 3.0) == (-math.inf, 3.0)
    assert limit_pair(-3.0, None) == (-3.0, math.inf)


def test_the_message_names_what_and_where():
    with pytest.raises(ConformityInputError, match="reading must be finite; got nan at position 2"):
        finite_array([1.0, 2.0, math.nan], "reading")
    with pytest.raises(ConformityInputError, match=r"u must not be negative; got -1\.0$"):
        not_negative(-1.0, "u")
    with pytest.raises(ConformityInputError, match=r"got 0\.0 at position 0"):
        positive_limit([0.0, 1.0])
    with pytest.raises(ConformityInputError, match="below the upper one; got 2 and 1"):
        limit_pair(2, 1)


def test_results_without_dimension_become_plain_floats():
    assert type(plain_result(np.asarray(2.0))) is float
    assert plain_result(np.zeros(1)).shape == (1,)
