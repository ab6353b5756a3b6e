"""Thermocouple type K."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.analyzer import thermocouple
from flueproof.analyzer.errors import OutOfTableError


@given(st.floats(-199.0, 1371.0))
def test_temperature_undoes_voltage(celsius):
    assert thermocouple.temperature_c(thermocouple.emf_mv(celsius)) == pytest.approx(celsius, abs=1e-6)


def test_the_voltage_rises_all_the_way():
    assert np.all(np.diff(thermocouple.emf_mv(np.linspace(-269.0, 1372.0, 3000))) > 0.0)


@given(st.floats(-200.0, 1370.0))
def test_the_slope_is_the_derivative(celsius):
    ends = thermocouple.emf_mv(np.array([celsius - 0.01, celsius + 0.01]))
    assert thermocouple.sensitivity_mv_per_k(celsius) == pytest.approx((ends[1] - ends[0]) / 0.02, abs=1e-5)


def test_a_cold_junction_one_kelvin_off_shifts_200_by_about_one_kelvin():
    measured = thermocouple.emf_mv(200.0) - thermocouple.emf_mv(23.0)
    shift = float(thermocouple.temperature_with_cold_junction(measured, 24.0)) - 200.0
    assert 1.005 < shift < 1.03


@pytest.mark.parametrize("voltage", [-6.0, 55.0, np.nan])
def test_a_voltage_outside_the_table_is_refused(voltage):
    with pytest.raises(OutOfTableError, match="Open or reversed leads"):
        thermocouple.temperature_c(voltage)


@pytest.mark.parametrize("celsius", [-271.0, 1373.0, np.nan])
def test_a_temperature_outside_the_table_is_refused(celsius):
    with pytest.raises(OutOfTableError, match="-270 to 1372"):
        thermocouple.emf_mv(celsius)
    with pytest.raises(OutOfTableError, match="-270 to 1372"):
        thermocouple.sensitivity_mv_per_k(celsius)


def test_a_tolerance_outside_its_class_is_refused():
    with pytest.raises(OutOfTableError, match="-40 to 1200"):
        thermocouple.tolerance_k(-60.0)
    with pytest.raises(OutOfTableError, match="class 2"):
        thermocouple.tolerance_k(100.0, "class 9")
