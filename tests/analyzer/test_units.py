"""Units at the border."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.analyzer import units
from flueproof.analyzer.errors import UnitError

PAIRS = [(quantity, unit) for quantity in units.CORE_UNITS for unit in units.units_of(quantity)]


@pytest.mark.parametrize(("quantity", "unit"), PAIRS)
@given(value=st.floats(-1e5, 1e5))
def test_what_goes_into_the_core_comes_out_again(quantity, unit, value):
    assert units.from_core(units.to_core(value, unit, quantity), unit, quantity) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(("quantity", "unit"), PAIRS)
def test_a_difference_is_the_difference_of_two_values(quantity, unit):
    of_values = units.to_core(17.0, unit, quantity) - units.to_core(12.0, unit, quantity)
    assert units.difference_to_core(5.0, unit, quantity) == pytest.approx(of_values)
    assert units.difference_from_core(of_values, unit, quantity) == pytest.approx(5.0)


def test_a_fahrenheit_display_step_never_shifts():
    assert units.difference_to_core(1.0, "degF", "temperature") == pytest.approx(5 / 9)
    assert units.to_core(32.0, "degF", "temperature") == 0.0
    assert units.to_core(212.0, "degF", "degC") == pytest.approx(100.0)


def test_one_percent_is_ten_thousand_ppm():
    assert units.to_core(1.0, "%", "ppm") == 10_000.0
    assert units.to_core(250.0, "ppm", "share-pct") == pytest.approx(0.025)


def test_arrays_convert_like_numbers():
    values = units.to_core(np.array([-0.02, -0.04]), "inH2O", "Pa")
    assert values == pytest.approx([-4.98178, -9.96356], abs=1e-5)


def test_an_unknown_unit_is_refused_with_the_known_ones():
    with pytest.raises(UnitError, match=r"'bar' .*inH2O"):
        units.to_core(1.0, "bar", "pressure")
    with pytest.raises(UnitError, match="'ppm' is no unit for a value in degC"):
        units.difference_to_core(1.0, "ppm", "temperature")
    with pytest.raises(UnitError, match="'length' is unknown"):
        units.core_unit("length")
