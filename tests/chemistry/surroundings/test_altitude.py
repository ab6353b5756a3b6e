"""Air pressure over height."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.errors import FlueGasError
from flueproof.chemistry.surroundings.altitude import (
    altitude_m_from_pressure,
    standard_pressure_hpa,
    volume_ratio,
)


@given(st.floats(-500.0, 5000.0))
def test_there_and_back(height):
    assert altitude_m_from_pressure(standard_pressure_hpa(height)) == pytest.approx(height, abs=1e-6)


def test_it_falls_with_height():
    assert np.all(np.diff(standard_pressure_hpa(np.linspace(-500.0, 5000.0, 100))) < 0.0)
    assert standard_pressure_hpa(0.0) == 1013.25


@pytest.mark.parametrize("height", [-501.0, 5001.0, 8848.0, float("nan")])
def test_a_height_outside_is_refused(height):
    with pytest.raises(FlueGasError, match="height"):
        standard_pressure_hpa(height)


def test_a_pressure_in_another_unit_is_refused():
    with pytest.raises(FlueGasError, match="hPa"):
        altitude_m_from_pressure(101.3)


def test_a_cubic_meter_grows_with_heat_and_height():
    assert volume_ratio(0.0, 1013.25) == 1.0
    assert volume_ratio(273.15, 1013.25) == pytest.approx(2.0)
    assert volume_ratio(0.0, 1013.25 / 1.25) == pytest.approx(1.25)
    with pytest.raises(FlueGasError):
        volume_ratio(20.0, 101.3)
