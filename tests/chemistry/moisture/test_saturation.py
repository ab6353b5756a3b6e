"""Saturation line of water: shape, inverse, refusals. Values against another library stand in tests/published."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.errors import FlueGasError
from flueproof.chemistry.moisture.saturation import latent_heat_kj_mol, saturation_c, saturation_hpa


@given(st.floats(0.0, 250.0))
def test_the_temperature_comes_back_from_its_pressure(temperature):
    assert saturation_c(saturation_hpa(temperature)) == pytest.approx(temperature, abs=1e-8)


@given(st.floats(0.0, 249.0), st.floats(0.01, 1.0))
def test_hotter_water_has_more_pressure_and_less_heat_of_evaporation(temperature, more):
    assert saturation_hpa(temperature + more) > saturation_hpa(temperature)
    assert latent_heat_kj_mol(temperature + more) < latent_heat_kj_mol(temperature)


def test_arrays_keep_their_shape():
    grid = np.array([[0.0, 20.0], [60.0, 100.0]])
    assert saturation_hpa(grid).shape == saturation_c(saturation_hpa(grid)).shape == latent_heat_kj_mol(grid).shape
    assert saturation_hpa(grid)[1, 1] == saturation_hpa(100.0)


@pytest.mark.parametrize("wrong", [-0.1, 250.1, float("nan"), [20.0, 300.0]])
def test_a_temperature_outside_the_formula_is_refused_with_its_range(wrong):
    with pytest.raises(FlueGasError, match="0 to 250"):
        saturation_hpa(wrong)
    with pytest.raises(FlueGasError, match="0 to 250"):
        latent_heat_kj_mol(wrong)


@pytest.mark.parametrize("wrong", [0.0, -3.0, 5.0, 60_000.0, float("nan")])
def test_a_pressure_without_dew_point_is_refused(wrong):
    with pytest.raises(FlueGasError, match="frost"):
        saturation_c(wrong)
