"""Dry as wet and back."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.combustion.wet_and_dry import dry_from_wet, wet_from_dry
from flueproof.chemistry.errors import FlueGasError


@given(st.floats(0.0, 1e5), st.floats(0.0, 0.9))
def test_there_and_back(value, share):
    assert dry_from_wet(wet_from_dry(value, share), share) == pytest.approx(value)
    assert wet_from_dry(value, share) <= value


def test_shapes_broadcast():
    assert wet_from_dry(np.ones((3, 1)), [0.1, 0.2]).shape == (3, 2)


@pytest.mark.parametrize("share", [-0.1, 0.95, 14.9, float("nan")])
@pytest.mark.parametrize("form", [dry_from_wet, wet_from_dry])
def test_water_in_per_cent_by_mistake_is_refused(form, share):
    with pytest.raises(FlueGasError, match="fraction"):
        form(100.0, share)
