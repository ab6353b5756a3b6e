"""ppm and mass per volume."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.emissions.per_volume import (
    mg_m3_from_ppm,
    nox_from_no_only_ppm,
    nox_ppm,
    ppm_from_mg_m3,
)
from flueproof.chemistry.errors import FlueGasError


@given(st.floats(0.0, 1e5), st.sampled_from(["CO", "NO", "NO2", "SO2", "CO2"]), st.sampled_from([0.0, 20.0, 25.0]))
def test_there_and_back(ppm, gas, celsius):
    assert ppm_from_mg_m3(mg_m3_from_ppm(ppm, gas, at_c=celsius).value, gas, at_c=celsius).value == pytest.approx(ppm)


def test_a_warmer_cubic_meter_holds_less():
    values = [mg_m3_from_ppm(100.0, "CO", at_c=celsius).value for celsius in (0.0, 20.0, 25.0)]
    assert values == sorted(values, reverse=True)


def test_the_basis_says_temperature_and_moisture():
    found = mg_m3_from_ppm(100.0, "CO", moisture="wet")
    assert (found.unit, found.basis.at_c, found.basis.moisture) == ("mg/m3", 0.0, "wet")


def test_nitrogen_oxides_from_both_or_from_one():
    assert nox_ppm([80.0, 50.0], [4.0, 2.0]).tolist() == [84.0, 52.0]
    assert nox_from_no_only_ppm(95.0) == pytest.approx(100.0)
    assert nox_from_no_only_ppm(90.0, 0.1) == pytest.approx(100.0)


@pytest.mark.parametrize("share", [-0.1, 0.6, 5.0])
def test_an_assumed_share_of_no2_beyond_sense_is_refused(share):
    with pytest.raises(FlueGasError, match="share of NO2"):
        nox_from_no_only_ppm(90.0, share)
